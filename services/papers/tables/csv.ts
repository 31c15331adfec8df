export type Cell = string | number | null;

/** Spreadsheets take a text that begins so for a formula, and run it. */
const looksLikeFormula = /^[=+\-@\t\r]/;

/**
 * RFC 4180: lines end with CRLF, what holds a comma, a quote or a line break is quoted, quotes are doubled. Texts that a spreadsheet would take for
 * formulas get an apostrophe before them; numbers are ours and keep their sign. A byte order mark, because spreadsheets else take accents for something else.
 */
export function csvText(heads: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const lines = [heads, ...rows].map((row) => row.map(cellText).join(","));
  return `\uFEFF${lines.join("\r\n")}\r\n`;
}

function cellText(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return `${cell}`;
  const safe = looksLikeFormula.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
