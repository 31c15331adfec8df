import { hoursAndMinutes } from "../../../shared/agronomy/timeWords.ts";
import { dateWords, shortDateWords } from "../../../shared/model/dateWords.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import { endOf, partWords, runsOf } from "../../../shared/plan/runs.ts";
import { clockOn } from "../../../shared/plan/sheetWords.ts";
import { sumOf } from "../../../shared/plan/totals.ts";
import type { CrewDayCell, WeekView } from "../../../shared/plan/weekView.ts";
import { Paper, type PaperSize } from "../page/paper.ts";
import { type PaperSource, sourceWords } from "../page/source.ts";
import { table } from "../page/table.ts";

export interface WeekPaper {
  readonly view: WeekView;
  readonly source: PaperSource;
  readonly size: PaperSize;
  readonly measures: Measures;
}

/** More days than these stand in a table of their own. */
const daysBeside = 7;

/** The week for the wall: crews by days, then what is not planned and why. */
export function weekPdf({ view, source, size, measures }: WeekPaper): Promise<Buffer> {
  const [first, last] = [view.days[0]!.date, view.days.at(-1)!.date];
  const title = `${view.operationName}, ${dateWords(first)} to ${dateWords(last)}`;
  const paper = new Paper({
    size,
    landscape: true,
    title,
    foot: `${sourceWords(source)}. ${title}`,
    madeAt: source.madeAt,
  });
  paper.text(view.operationName, { bold: true, sizePt: 16 });
  paper.text(`${dateWords(first)} to ${dateWords(last)}, times in ${view.timeZone}. ${sourceWords(source)}`, {
    sizePt: 10,
  });
  const percent = (view.servedFrac * 100).toFixed(1);
  paper.text(
    `Planned ${measures.areaHa(view.servedHa)} of ${measures.area(view.orderedHa)} (${percent} %), ${measures.road(view.roadKm)} on the road, ${hoursAndMinutes(view.dutyMin)} of duty`,
    { bold: true, sizePt: 10 },
  );
  paper.gap(5);
  for (let from = 0; from < view.days.length; from += daysBeside) crewsByDays(paper, view, measures, from);
  notPlanned(paper, view, measures);
  paper.gap(6);
  paper.text(view.caution, { sizePt: 8, bold: true });
  return paper.finish();
}

function crewsByDays(paper: Paper, view: WeekView, measures: Measures, from: number): void {
  const days = view.days.slice(from, from + daysBeside);
  const crewPt = 74;
  const dayPt = (paper.widthPt - crewPt) / days.length;
  const heads = days.map(({ date, sunrise, sunset }) => {
    const sun = sunrise === null || sunset === null ? "" : `\nsun ${sunrise.clock} to ${sunset.clock}`;
    return `${shortDateWords(date, date)}${sun}`;
  });
  grid(
    paper,
    ["", ...heads],
    view.crews.map((crew) => [
      `${crew.name}\n${crew.base}`,
      ...crew.days.slice(from, from + daysBeside).map((cell) => cellWords(cell, measures)),
    ]),
    [crewPt, ...days.map(() => dayPt)],
  );
  paper.gap(8);
}

/** A number stays on the line of its unit, hours on that of their minutes. */
const numberAndUnit = /(\d) (ha|ac|km|mi|h|min)\b/g;
const hoursAndRest = /(\d\u00A0h) (\d)/g;

function cellWords({ crewDay, date, shift }: CrewDayCell, measures: Measures): string {
  if (crewDay === null) return shift === null ? "off" : "not needed";
  const { areaHa, back, dutyMin, leave, outfitShort, roadKm, sleepsAt, stops } = crewDay;
  return [
    `${clockOn(leave, date)} to ${clockOn(back, date)}, ${hoursAndMinutes(dutyMin)}`,
    ...runsOf(stops).map(
      (run) =>
        `• ${clockOn(run[0].start, date)}-${clockOn(endOf(run), date)} ${run[0].fieldName} ${run[0].orderId}${partWords(run)}, ${measures.area(sumOf(run, (stop) => stop.areaHa))}`,
    ),
    `${measures.area(areaHa)}, ${measures.road(roadKm)}`,
    outfitShort,
    ...(sleepsAt === null ? [] : [`sleeps at ${sleepsAt}`]),
  ]
    .join("\n")
    .replace(numberAndUnit, "$1\u00A0$2")
    .replace(hoursAndRest, "$1\u00A0$2");
}

const cellPadPt = 3;

/** Cells with lines between them; a row that is higher than a page goes on, cell by cell, on the next. */
function grid(
  paper: Paper,
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  columnsPt: readonly number[],
): void {
  const sizePt = 7.5;
  const heightOf = (cells: readonly string[], bold: boolean) =>
    Math.max(
      ...cells.map((cell, at) =>
        paper.heightOf(cell, { bold: bold || at === 0, sizePt, widthPt: columnsPt[at]! - 2 * cellPadPt }),
      ),
    ) +
    2 * cellPadPt;
  const write = (cells: readonly string[], isHead: boolean) => {
    const heightPt = heightOf(cells, isHead);
    let xPt = paper.leftPt;
    cells.forEach((cell, at) => {
      paper.wordsAt(cell, xPt + cellPadPt, paper.yPt + cellPadPt, {
        bold: isHead || at === 0,
        sizePt,
        widthPt: columnsPt[at]! - 2 * cellPadPt,
      });
      paper.doc
        .lineWidth(isHead ? 1 : 0.4)
        .rect(xPt, paper.yPt, columnsPt[at]!, heightPt)
        .stroke("black");
      xPt += columnsPt[at]!;
    });
    paper.yPt += heightPt;
  };
  const headPt = heightOf(heads, true);
  paper.need(headPt + Math.min(heightOf(rows[0] ?? [""], false), paper.pageRoomPt - headPt));
  write(heads, true);
  for (const row of rows) {
    for (const piece of piecesOf(row, (cells) => heightOf(cells, false), paper.pageRoomPt - headPt)) {
      if (heightOf(piece, false) > paper.roomPt) {
        paper.turnPage();
        write(heads, true);
      }
      write(piece, false);
    }
  }
}

/** A row in pieces that fit on a page each, cut between lines. */
function piecesOf(
  row: readonly string[],
  heightOf: (cells: readonly string[]) => number,
  mostPt: number,
): (readonly string[])[] {
  if (heightOf(row) <= mostPt) return [row];
  const lines = row.map((cell) => cell.split("\n"));
  const longest = Math.max(...lines.map((of) => of.length));
  if (longest < 2) return [row];
  const half = Math.ceil(longest / 2);
  const upper = lines.map((of) => of.slice(0, half).join("\n"));
  const lower = lines.map((of, at) => (at === 0 ? of[0]! : of.slice(half).join("\n")));
  return [...piecesOf(upper, heightOf, mostPt), ...piecesOf(lower, heightOf, mostPt)];
}

function notPlanned(paper: Paper, { conflicts, brokenLocks }: WeekView, measures: Measures): void {
  if (brokenLocks.length > 0) {
    paper.need(40);
    paper.text("Locked, and cannot hold", { bold: true, sizePt: 11 });
    table(paper, {
      heads: ["crew", "day", "what", "why"],
      rows: brokenLocks.map(({ crewName, date, what, sentence }) => [crewName, dateWords(date), what, sentence]),
      sizePt: 8,
    });
    paper.gap(6);
  }
  paper.need(40);
  paper.text(conflicts.length === 0 ? "Everything that was ordered is planned." : "Not planned, and why", {
    bold: true,
    sizePt: 11,
  });
  if (conflicts.length === 0) return;
  table(paper, {
    heads: ["order", "field", "grower", measures.areaUnit, "kind", "why"],
    rows: conflicts.map(({ orderId, fieldName, grower, areaHa, kindWords, sentence }) => [
      orderId,
      fieldName,
      grower,
      areaHa > 0 ? measures.areaHa(areaHa) : "",
      kindWords,
      sentence,
    ]),
    right: [3],
    sizePt: 8,
  });
}
