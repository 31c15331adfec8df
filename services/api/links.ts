import { linkPath } from "../access/links.ts";
import type { ApiParts, Call } from "./route.ts";

export function linkAddress({ access }: ApiParts, call: Call, kind: "password" | "crew", text: string): string {
  return `${access.origin ?? `http://${call.header("host")}`}${linkPath(kind, text)}`;
}
