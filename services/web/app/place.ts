import { useSyncExternalStore } from "react";
import type { RoomName } from "./rooms.ts";

/** Links that are opened once: of the first start, to set a password, for a crew's phone. */
const linkKinds = ["first", "password", "crew"] as const;

/** What is shown, as it stands behind the # of the address: a link, or a room and what within it. */
export type Place =
  | { readonly kind: "start" }
  | { readonly kind: "link"; readonly of: (typeof linkKinds)[number]; readonly link: string }
  | { readonly kind: "room"; readonly room: RoomName; readonly within: readonly string[] };

/** `#week/PLAN/crew`; what is within a room is the room's own to read. */
export function addressOf(room: RoomName, ...within: readonly string[]): string {
  return `#${[room, ...within].map(encodeURIComponent).join("/")}`;
}

/** An address that is no place of ours is the start. */
export function placeOf(address: string, rooms: readonly RoomName[]): Place {
  const [word = "", ...within] = address.replace(/^#/, "").split("/").map(decoded);
  const of = linkKinds.find((known) => known === word);
  if (of !== undefined && within.length === 1 && within[0]) return { kind: "link", of, link: within[0] };
  const room = rooms.find((known) => known === word);
  return room === undefined ? { kind: "start" } : { kind: "room", room, within };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return "";
  }
}

function onHash(tell: () => void): () => void {
  window.addEventListener("hashchange", tell);
  return () => window.removeEventListener("hashchange", tell);
}

/** The part of the address behind the #, followed. */
export const useAddress = (): string => useSyncExternalStore(onHash, () => location.hash);

/** To another place; `replacing`: without a step back to the present one. */
export function go(address: string, replacing = false): void {
  if (replacing) {
    history.replaceState(null, "", address);
    window.dispatchEvent(new HashChangeEvent("hashchange"));
  } else location.hash = address;
}
