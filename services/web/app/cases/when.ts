const parts = { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" } as const;

/** A moment by the reader's own clock: "Thu 26 Nov 23:15". */
export function whenWords(at: string): string {
  return new Date(at).toLocaleString("en-GB", parts).replaceAll(",", "");
}
