import { crewLinkDaysMost } from "../../shared/contracts/crewLinks.ts";
import { type AccessSettings, isHttps } from "../access/accessSettings.ts";

/** With the prefix a browser takes it only over https and for this host alone (RFC 6265bis, section 4.1.3.2), which it would refuse over http. */
const nameOf = (access: AccessSettings) => (isHttps(access) ? "__Host-calmhour" : "calmhour");

/**
 * No script can read it, and no other site's page sends it along. It goes when the browser is closed, or is kept: when the session ends, the store says. A crew's phone closes its
 * browser whenever it likes.
 */
export function sessionCookie(access: AccessSettings, secret: string, isKept: boolean): string {
  return `${nameOf(access)}=${secret}; ${isKept ? `Max-Age=${keptS}; ` : ""}${attributes(access)}`;
}
/** As long as a link for a crew's phone may hold at most. */
const keptS = crewLinkDaysMost * 24 * 3600;

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
