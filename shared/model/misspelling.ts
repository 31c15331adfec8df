/** Letters to insert, drop or replace to get from one word to another (Levenshtein 1966). */
function editDistance(from: string, to: string): number {
  let row = Array.from({ length: to.length + 1 }, (_, at) => at);
  for (let i = 1; i <= from.length; i++) {
    const next = [i];
    for (let j = 1; j <= to.length; j++) {
      const replaced = row[j - 1]! + (from[i - 1]!.toLowerCase() === to[j - 1]!.toLowerCase() ? 0 : 1);
      next.push(Math.min(replaced, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[to.length]!;
}

/**
 * Our choice: words that differ by no more than a third of their letters are taken for a misspelling, and so is the
 * beginning of a known word.
 */
export function nearestWord(word: string, known: readonly string[]): string | undefined {
  const best = known
    .map((candidate) => ({ candidate, distance: candidate.startsWith(word) ? 0 : editDistance(word, candidate) }))
    .sort((a, b) => a.distance - b.distance)[0];
  return best !== undefined && best.distance <= word.length / 3 ? best.candidate : undefined;
}

/** What may stand where unknown names stand; each likely one is named once, however many names are unknown. */
export function knownWords(unknown: readonly string[], known: readonly string[]): string {
  if (known.length === 0) return "no such name";
  const near = new Set(unknown.map((word) => nearestWord(word, known)).filter((word) => word !== undefined));
  return `one of ${known.join(", ")}${near.size === 0 ? "" : ` (perhaps ${[...near].join(", ")})`}`;
}
