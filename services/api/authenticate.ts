import type { Request } from "express";
import type { AccessSettings } from "../access/accessSettings.ts";
import { csrfTokenOf, hashOf, isSameText } from "../access/secrets.ts";
import type { CallerStore } from "../store/callers.ts";
import type { Authenticate, Authenticated } from "./caller.ts";
import { sessionSecretIn } from "./cookies.ts";
import { isFromOurPage } from "./ourPage.ts";

export const csrfHeader = "x-csrf-token";

/**
 * By a token (RFC 6750, section 2.1) or a session's cookie. The cookie comes along whoever makes the browser call, so what changes something must also come from our own page and
 * carry what only that page can know.
 */
export function createAuthentication(store: CallerStore, access: AccessSettings): Authenticate {
  return async (request) => {
    const authorization = request.get("authorization");
    if (authorization !== undefined) {
      const token = /^Bearer ([\x21-\x7e]+)$/i.exec(authorization)?.[1];
      const caller = token === undefined ? null : await store.callerOfToken(hashOf(token));
      return caller ? { status: "known", actor: caller } : { status: "refused" };
    }
    const secret = sessionSecretIn(access, request.get("cookie"));
    return secret === null ? { status: "nobody" } : bySession(store, access, request, secret);
  };
}

async function bySession(
  store: CallerStore,
  access: AccessSettings,
  request: Request,
  secret: string,
): Promise<Authenticated> {
  const caller = await store.callerOfSession(hashOf(secret));
  if (!caller) return { status: "refused" };
  const isRead = request.method === "GET" || request.method === "HEAD";
  const isOurs =
    isRead || (isFromOurPage(request, access) && isSameText(request.get(csrfHeader) ?? "", csrfTokenOf(secret)));
  return isOurs ? { status: "known", actor: caller } : { status: "forged" };
}
