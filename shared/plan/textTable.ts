export const widthChars = 100;
const gap = "  ";

/**
 * Rows with aligned columns. The last column is wrapped under itself, so that no line is wider than the page as long as
 * the other columns leave it room.
 */
export function textTable(
  rows: readonly (readonly string[])[],
  { indent, right }: { readonly indent: number; readonly right: readonly number[] },
): string[] {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, column) =>
    Math.max(...rows.map((row) => lengthOf(row[column] ?? ""))),
  );
  return rows.flatMap((row) => {
    const last = columns - 1;
    const start = row
      .slice(0, last)
      .map((cell, column) => pad(cell, widths[column]!, right.includes(column)) + gap)
      .join("");
    const lead = " ".repeat(indent) + start;
    const cell = row[last] ?? "";
    const end = right.includes(last) ? pad(cell, widths[last]!, true) : cell;
    return wrapWords(end, lead, " ".repeat(lengthOf(lead)));
  });
}

/** A paragraph, every line indented. */
export function wrapped(text: string, indent: number): string[] {
  const lead = " ".repeat(indent);
  return wrapWords(text, lead, `${lead}${indent > 0 ? "  " : ""}`);
}

function wrapWords(text: string, firstLead: string, nextLead: string): string[] {
  // Padding before a right-aligned cell is part of the lead, not of the words.
  const padding = /^ */.exec(text)![0];
  const lines: string[] = [];
  let line = firstLead + padding;
  let isEmpty = true;
  for (const word of text.slice(padding.length).split(" ")) {
    if (!isEmpty && lengthOf(line) + 1 + lengthOf(word) > widthChars) {
      lines.push(line);
      line = nextLead;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  lines.push(line.trimEnd());
  return lines;
}

function pad(text: string, width: number, right: boolean): string {
  const space = " ".repeat(Math.max(0, width - lengthOf(text)));
  return right ? space + text : text + space;
}

/** In characters as people count them, so that a letter with an accent is one. */
function lengthOf(text: string): number {
  return [...text.normalize("NFC")].length;
}
