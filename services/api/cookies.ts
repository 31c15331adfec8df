import { type AccessSettings, isHttps } from "../access/accessSettings.ts";

/** With the prefix a browser takes it only over https and for this host alone (RFC 6265bis, section 4.1.3.2), which it would refuse over http. */
const nameOf = (access: AccessSettings) => (isHttps(access) ? "__Host-calmhour" : "calmhour");

/** Gone with the browser at the latest when the store says so: the cookie itself has no end. No script can read it, and no other site's page sends it along. */
export function sessionCookie(access: AccessSettings, secret: string): string {
  return `${nameOf(access)}=${secret}; ${attributes(access)}`;
}

export function endedCookie(access: AccessSettings): string {
  return `${nameOf(access)}=; Max-Age=0; ${attributes(access)}`;
}

const attributes = (access: AccessSettings) => `Path=/; HttpOnly; SameSite=Strict${isHttps(access) ? "; Secure" : ""}`;

/** What the session's cookie carries. */
export function sessionSecretIn(access: AccessSettings, header: string | undefined): string | null {
  const start = `${nameOf(access)}=`;
  const pair = (header ?? "")
    .split(";")
    .map((text) => text.trim())
    .find((text) => text.startsWith(start));
  return pair?.slice(start.length) || null;
}
