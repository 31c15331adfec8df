/** A number as people type it, with a point or a comma; null: it is none. */
export function numberIn(text: string): number | null {
  const given = text.trim().replace(",", ".");
  return /^-?\d+(\.\d*)?$|^-?\.\d+$/.test(given) ? Number(given) : null;
}
