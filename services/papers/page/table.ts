import { bodyPt, type Paper } from "./paper.ts";

export interface TableOptions {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Columns of numbers. */
  readonly right?: readonly number[];
  readonly sizePt?: number;
  /** Columns in which somebody writes by hand get at least so much. */
  readonly leastPt?: Readonly<Record<number, number>>;
  /** Columns in which somebody writes by hand: with a line before them. */
  readonly byHand?: readonly number[];
  readonly xPt?: number;
  readonly widthPt?: number;
}

const padPt = 3;

/** Lines between rows; heads are told again on a new page. */
export function table(paper: Paper, options: TableOptions): void {
  const {
    heads,
    rows,
    right = [],
    byHand = [],
    sizePt = bodyPt,
    xPt = paper.leftPt,
    widthPt = paper.widthPt,
  } = options;
  const columnsPt = columnWidths(paper, options, widthPt);
  const heightOf = (cells: readonly string[], bold: boolean) =>
    Math.max(
      ...columnsPt.map((columnPt, at) =>
        paper.heightOf(cells[at] ?? "", { bold, sizePt, widthPt: Math.max(1, columnPt - 2 * padPt) }),
      ),
    ) +
    2 * padPt -
    2;
  const write = (cells: readonly string[], bold: boolean, heightPt: number) => {
    let leftPt = xPt;
    columnsPt.forEach((columnPt, at) => {
      paper.wordsAt(cells[at] ?? "", leftPt + padPt, paper.yPt + padPt - 1, {
        bold,
        sizePt,
        widthPt: Math.max(1, columnPt - 2 * padPt),
        align: right.includes(at) ? "right" : "left",
      });
      if (byHand.includes(at)) {
        paper.doc
          .lineWidth(0.3)
          .strokeColor("black")
          .moveTo(leftPt, paper.yPt)
          .lineTo(leftPt, paper.yPt + heightPt)
          .stroke();
      }
      leftPt += columnPt;
    });
    paper.yPt += heightPt;
    paper.doc
      .lineWidth(bold ? 0.8 : 0.3)
      .strokeColor("black")
      .moveTo(xPt, paper.yPt)
      .lineTo(xPt + widthPt, paper.yPt)
      .stroke();
  };
  const isHeaded = heads.some((head) => head !== "");
  const headPt = isHeaded ? heightOf(heads, true) : 0;
  const writeHeads = () => isHeaded && write(heads, true, headPt);
  paper.need(headPt + (rows[0] === undefined ? 0 : heightOf(rows[0], false)));
  writeHeads();
  for (const row of rows) {
    const heightPt = heightOf(row, false);
    if (heightPt > paper.roomPt) {
      paper.turnPage();
      writeHeads();
    }
    write(row, false, heightPt);
  }
}

/** As wide as their words where that fits; else narrow columns keep theirs and the wide ones share what is left. */
function columnWidths(
  paper: Paper,
  { heads, rows, sizePt = bodyPt, leastPt = {} }: TableOptions,
  widthPt: number,
): number[] {
  const wantedPt = heads.map((head, at) =>
    Math.max(
      leastPt[at] ?? 0,
      2 * padPt +
        1 +
        Math.max(
          paper.widthOf(head, { bold: true, sizePt }),
          ...rows.map((row) => paper.widthOf(row[at] ?? "", { sizePt })),
        ),
    ),
  );
  const wholePt = wantedPt.reduce((sum, one) => sum + one, 0);
  if (wholePt <= widthPt) {
    const widest = wantedPt.indexOf(Math.max(...wantedPt));
    return wantedPt.map((one, at) => (at === widest ? one + widthPt - wholePt : one));
  }
  let left = wantedPt.map((_, at) => at);
  let leftPt = widthPt;
  const columnsPt = wantedPt.map(() => 0);
  for (;;) {
    const sharePt = leftPt / left.length;
    const narrow = left.filter((at) => wantedPt[at]! <= sharePt);
    if (narrow.length === 0 || narrow.length === left.length) {
      for (const at of left) columnsPt[at] = sharePt;
      return columnsPt;
    }
    for (const at of narrow) {
      columnsPt[at] = wantedPt[at]!;
      leftPt -= wantedPt[at]!;
    }
    left = left.filter((at) => !narrow.includes(at));
  }
}

/** What it is, and then what it says, one below the other. */
export function facts(paper: Paper, rows: readonly (readonly [string, string])[], sizePt = bodyPt): void {
  const namePt = Math.max(0, ...rows.map(([name]) => paper.widthOf(name, { bold: true, sizePt }))) + 8;
  for (const [name, value] of rows) {
    const widthPt = paper.widthPt - namePt;
    const heightPt = Math.max(paper.heightOf(name, { bold: true, sizePt }), paper.heightOf(value, { sizePt, widthPt }));
    paper.need(heightPt);
    paper.wordsAt(name, paper.leftPt, paper.yPt, { bold: true, sizePt, widthPt: namePt });
    paper.wordsAt(value, paper.leftPt + namePt, paper.yPt, { sizePt, widthPt });
    paper.yPt += heightPt + 1.5;
  }
}
