import type { SheetStop } from "../../../shared/plan/crewSheet.ts";
import { limitHeads, limitRows, limitsTitle } from "../../../shared/plan/limitRows.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import type { Paper } from "../page/paper.ts";
import { table } from "../page/table.ts";

/** Limits of the stop beside room for what was measured, before the work and during it. */
export function limitsToMeasure(paper: Paper, stop: SheetStop, measures: Measures): void {
  paper.need(60);
  paper.text(limitsTitle, { bold: true });
  table(paper, {
    heads: [...limitHeads, "measured before", "during"],
    rows: limitRows(stop, measures).map((row) => [...row, "", ""]),
    byHand: [3, 4],
    leastPt: { 3: 90, 4: 90 },
  });
}

const rowPt = 22;
const rowGapPt = 2;

export const recordLinesPt = 3 * (rowPt + rowGapPt);

/** What the record of the application asks of the crew, written by hand where no phone is. */
export function recordLines(paper: Paper, { areaUnit, unitOf }: Measures): void {
  paper.need(recordLinesPt);
  blanks(paper, [
    ["started", 1],
    ["finished", 1],
    [`${areaUnit} treated`, 1],
    ["loads", 1],
  ]);
  blanks(paper, [
    [`wind ${unitOf("wind")}, from`, 1],
    [`gust ${unitOf("gust")}`, 1],
    [`temperature ${unitOf("temperature")}`, 1],
    ["humidity %", 1],
    ["measured at", 1],
  ]);
  blanks(paper, [
    ["stopped because", 2],
    ["applicator, signature", 2],
  ]);
}

/** Small words under lines to write on, each as wide as its share. */
export function blanks(paper: Paper, cells: readonly (readonly [words: string, share: number])[]): void {
  paper.need(rowPt);
  const shares = cells.reduce((sum, [, share]) => sum + share, 0);
  let xPt = paper.leftPt;
  for (const [words, share] of cells) {
    const widthPt = (paper.widthPt * share) / shares;
    paper.doc
      .lineWidth(0.5)
      .moveTo(xPt, paper.yPt + rowPt - 9)
      .lineTo(xPt + widthPt - 8, paper.yPt + rowPt - 9)
      .stroke("black");
    paper.wordsAt(words, xPt, paper.yPt + rowPt - 8, { sizePt: 7, widthPt: widthPt - 8 });
    xPt += widthPt;
  }
  paper.yPt += rowPt + rowGapPt;
}
