import type { Request } from "express";
import type { AccessSettings } from "../access/accessSettings.ts";

/**
 * Whether a call can have come from our own page, by what browsers say of themselves (Fetch Metadata; RFC 6454, section 7). What says nothing is no browser of today. A page of another
 * site could otherwise do things in the name of its reader.
 */
export function isFromOurPage(request: Request, { origin }: AccessSettings): boolean {
  const site = request.get("sec-fetch-site");
  if (site !== undefined && site !== "same-origin" && site !== "none") return false;
  const given = request.get("origin");
  if (given === undefined) return true;
  return origin === null ? hostOf(given) === request.get("host") : given === origin;
}

function hostOf(origin: string): string | null {
  return URL.canParse(origin) ? new URL(origin).host : null;
}
