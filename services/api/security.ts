import type { RequestHandler } from "express";
import helmet from "helmet";
import { problem } from "./problems.ts";
import { sendProblem } from "./send.ts";

/** W3C Content Security Policy Level 3: nothing but our own files and calls to ourselves; never within another page. */
const directives: Readonly<Record<string, readonly string[]>> = {
  "default-src": ["'none'"],
  "script-src": ["'self'"],
  "style-src": ["'self'"],
  "img-src": ["'self'", "data:"],
  "connect-src": ["'self'"],
  "manifest-src": ["'self'"],
  "form-action": ["'self'"],
  "base-uri": ["'none'"],
  "frame-ancestors": ["'none'"],
};
export const contentSecurityPolicy = Object.entries(directives)
  .map(([name, sources]) => `${name} ${sources.join(" ")}`)
  .join("; ");

/** Headers that every answer carries. `isSecure`: people reach us by https, and shall not by http any more. */
export function secureHeaders(isSecure: boolean): RequestHandler {
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: Object.fromEntries(Object.entries(directives).map(([name, sources]) => [name, [...sources]])),
    },
    crossOriginEmbedderPolicy: true,
    referrerPolicy: { policy: "no-referrer" },
    strictTransportSecurity: isSecure ? { maxAge: 180 * 86_400, includeSubDomains: false } : false,
    xFrameOptions: { action: "deny" },
  });
}

/**
 * Refuses calls under a name that is not ours: a page elsewhere may have its own name point to this machine, and its reader's browser would then take us for it (DNS rebinding). 421: RFC
 * 9110, section 15.5.20.
 */
export function onlyOurHosts(names: readonly string[]): RequestHandler {
  const ours = new Set(names.map((name) => name.toLowerCase()));
  return (request, response, next) => {
    if (ours.has(hostName(request.headers.host ?? ""))) return next();
    sendProblem(request, response, problem(421, "This server does not go by that name."));
  };
}

/** Without the port: `Host` is as in RFC 9110, section 7.2. */
function hostName(host: string): string {
  return host.replace(/:\d*$/, "").toLowerCase();
}

/** The names of a server that only this machine reaches. */
export const loopbackNames = ["localhost", "127.0.0.1", "[::1]"] as const;

export const isLoopback = (host: string): boolean =>
  host === "localhost" || host === "::1" || /^127\.\d+\.\d+\.\d+$/.test(host);
