import { linkPath } from "../access/links.ts";
import type { ApiParts, Call } from "./route.ts";

/** For a calendar that reads feeds; it cannot sign in, so the link stands in the address that it calls. */
export function calendarAddress({ access }: ApiParts, call: Call, text: string): string {
  return `${access.origin ?? `http://${call.header("host")}`}/api/calendar/${text}/crew.ics`;
}

export function linkAddress({ access }: ApiParts, call: Call, kind: "password" | "crew", text: string): string {
  return `${access.origin ?? `http://${call.header("host")}`}${linkPath(kind, text)}`;
}
