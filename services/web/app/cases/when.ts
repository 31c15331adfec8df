/** A moment by the reader's own clock: "26 Nov, 23:15". */
export function whenWords(at: string): string {
  return new Date(at).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
}
