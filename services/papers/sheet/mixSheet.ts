import type { SheetStop } from "../../../shared/plan/crewSheet.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import type { Run } from "../../../shared/plan/runs.ts";
import { letterOf, loadRows, productHeads, productRows } from "../../../shared/plan/sheetWords.ts";
import type { Paper } from "../page/paper.ts";
import { table } from "../page/table.ts";

/** What goes into each load in the order in which it is filled: water first, then the products in the order of the label. The last column is to cross off, load by load. */
export function mixSheet(paper: Paper, run: Run<SheetStop>, measures: Measures): void {
  table(paper, { heads: productHeads(measures), rows: productRows(run, measures), right: [1, 2] });
  paper.gap(3);
  const { parts, unit } = run[0].mix.whole;
  const filled = [...(unit === "L" ? ["water"] : []), ...parts.map(({ name }) => letterOf(run[0], name))];
  const order = filled.map((what, at) => `${at + 1}. ${what}`);
  const start = run.length === 1 ? ["loads", "each"] : ["part", "loads", "each"];
  const numbersOf = run.flatMap(({ mix: { full, last } }) => [
    ...(full.loads > 0 ? [loadNumbers(1, full.loads)] : []),
    ...(last === null ? [] : [loadNumbers(full.loads + 1, 1)]),
  ]);
  const rows = loadRows(run, measures).map((row, at) => [...row, numbersOf[at]!]);
  const numbers = [...start, ...order].map((_, column) => column).slice(start.length - 1);
  table(paper, {
    heads: [...start, ...order, "loads done"],
    rows,
    right: numbers,
    byHand: [start.length + order.length],
    leastPt: { [start.length + order.length]: 120 },
  });
}

/** `1  2  3`, with room to cross each off. */
function loadNumbers(first: number, count: number): string {
  return Array.from({ length: count }, (_, at) => `${first + at}`).join("   ");
}
