import { dateWords } from "../../../shared/model/dateWords.ts";
import type { CrewSheet, SheetStop } from "../../../shared/plan/crewSheet.ts";
import type { DayMap } from "../../../shared/plan/dayMap.ts";
import { hazardCaution, hazardHeads, hazardRows } from "../../../shared/plan/hazardWords.ts";
import { limitRows } from "../../../shared/plan/limitRows.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import { endOf, type Run, runsOf } from "../../../shared/plan/runs.ts";
import {
  backWords,
  clockOn,
  clockShiftWords,
  dayFacts,
  loadRows,
  neighbourHeads,
  neighbourRows,
  partHeads,
  partRows,
  productRows,
  runFacts,
  runTitle,
  takeAlongHeads,
  takeAlongRows,
  takeAlongTitle,
} from "../../../shared/plan/sheetWords.ts";
import { Paper, type PaperSize } from "../page/paper.ts";
import { type PaperSource, sourceWords } from "../page/source.ts";
import { facts, table } from "../page/table.ts";
import { dayMapSketch, fieldSketch } from "./dayMapSketch.ts";
import { dayStrip } from "./dayStrip.ts";
import { mixSheet } from "./mixSheet.ts";
import { blanks, limitsToMeasure, recordLines, recordLinesPt } from "./onSite.ts";

export interface CrewDayPaper {
  readonly sheet: CrewSheet;
  readonly map: DayMap;
  readonly source: PaperSource;
  readonly size: PaperSize;
  /** Those that the sheet was made with. */
  readonly measures: Measures;
}

const sketchPt = 150;
/** Below this a sketch tells too little. Our choice. */
const leastSketchPt = 100;
const linePt = 15.4;
const leastMapPt = 220;
/** Lines to fill in at the end of the day, which stand with the day and not behind the last stop. */
const endPt = 66;

/** A crew's day for the clipboard in the truck: all that it needs where no phone works. */
export function crewDayPdf({ sheet, map, source, size, measures }: CrewDayPaper): Promise<Buffer> {
  const { crewName, date } = sheet;
  const paper = new Paper({
    size,
    title: `${crewName}, ${dateWords(date)}`,
    // Whose and which day's page it is comes first: what is too long is cut at the end.
    foot: `${crewName}, ${dateWords(date)}. ${sourceWords(source)}. ${sheet.operationName}`,
    madeAt: source.madeAt,
  });
  head(paper, sheet, source, measures);
  theDay(paper, sheet);
  mapOfDay(paper, map, measures);
  theEnd(paper);
  for (const run of runsOf(sheet.stops)) stopsOnPaper(paper, sheet, map, measures, run);
  return paper.finish();
}

function head(paper: Paper, sheet: CrewSheet, source: PaperSource, measures: Measures): void {
  const { base, crewName, date, leaveBy } = sheet;
  paper.text(crewName, { bold: true, sizePt: 18 });
  paper.text(dateWords(date), { bold: true, sizePt: 13 });
  const shift = clockShiftWords(sheet.clockShiftMin);
  paper.gap(2);
  paper.text(`Leave by ${clockOn(leaveBy, date)}`, { bold: true, sizePt: 18 });
  paper.text(`from ${base}, ${backWords(sheet)} (${sheet.timeZone})${shift === "" ? "" : `; ${shift}`}`, {
    bold: true,
    sizePt: 11,
  });
  paper.text(sourceWords(source), { sizePt: 8 });
  paper.gap(4);
  boxed(paper, sheet.caution);
  facts(paper, dayFacts(sheet, measures));
  paper.gap(4);
  dayStrip(paper, sheet);
  paper.gap(6);
  paper.text(takeAlongTitle, { bold: true });
  table(paper, {
    heads: [...takeAlongHeads, "on the truck"],
    rows: takeAlongRows(sheet, measures).map((row) => [...row, ""]),
    right: [1],
    byHand: [2],
    leastPt: { 2: 70 },
  });
  paper.gap(6);
}

function boxed(paper: Paper, words: string): void {
  const style = { bold: true, xPt: paper.leftPt + 6, widthPt: paper.widthPt - 12 };
  const heightPt = paper.heightOf(words, style) + 8;
  paper.doc.lineWidth(1.2).rect(paper.leftPt, paper.yPt, paper.widthPt, heightPt).stroke("black");
  paper.wordsAt(words, style.xPt, paper.yPt + 4, style);
  paper.yPt += heightPt + 5;
}

function theDay(paper: Paper, { date, timeline }: CrewSheet): void {
  paper.need(50);
  paper.text("The day", { bold: true, sizePt: 11 });
  table(paper, {
    heads: ["from", "to", "min", "what", "", "really at"],
    rows: timeline.map((row) => [
      clockOn(row.start, date),
      clockOn(row.end, date),
      `${row.minutes}`,
      row.words,
      row.details.join(", "),
      "",
    ]),
    right: [2],
    sizePt: 8.5,
    byHand: [5],
    leastPt: { 5: 50 },
  });
  paper.gap(6);
}

function mapOfDay(paper: Paper, map: DayMap, measures: Measures): void {
  const words = 34 + endPt;
  paper.need(leastMapPt + words);
  paper.text("The way", { bold: true, sizePt: 11 });
  paper.gap(2);
  dayMapSketch(paper, map, measures, paper.roomPt - words);
  paper.gap(6);
}

/** Every stop begins on a page of its own where it would else be torn apart. */
function stopsOnPaper(paper: Paper, sheet: CrewSheet, map: DayMap, measures: Measures, run: Run<SheetStop>): void {
  const { date } = sheet;
  const [first] = run;
  paper.need(0.62 * paper.pageRoomPt);
  paper.line(1.5);
  paper.gap(3);
  paper.text(`${runTitle(run)}: ${first.fieldName}`, { bold: true, sizePt: 13 });
  paper.text(`${clockOn(first.start, date)} to ${clockOn(endOf(run), date)}`, { bold: true, sizePt: 11 });
  paper.gap(2);
  hazards(paper, first, date, measures);
  facts(paper, runFacts(run, date, measures));
  paper.gap(3);
  const parts = partRows(run, date, measures);
  if (parts.length > 0) {
    table(paper, { heads: partHeads(measures), rows: parts, right: [3] });
    paper.gap(4);
  }
  const heightPt = Math.max(leastSketchPt, Math.min(sketchPt, paper.roomPt - belowSketchPt(run, measures)));
  paper.need(heightPt + 4);
  fieldSketch(
    paper,
    map,
    run.map(({ number }) => number),
    measures,
    heightPt,
  );
  mixSheet(paper, run, measures);
  paper.gap(4);
  limitsToMeasure(paper, first, measures);
  paper.gap(4);
  neighbours(paper, first, measures);
  paper.gap(4);
  recordLines(paper, measures);
  paper.gap(6);
}

/** About what stands under the sketch of a stop: a line for each row of its tables and for their heads, and the lines to write on. */
function belowSketchPt(run: Run<SheetStop>, measures: Measures): number {
  const [first] = run;
  const rows = [
    productRows(run, measures),
    loadRows(run, measures),
    limitRows(first, measures),
    neighbourRows(first, measures),
  ];
  const lines = rows.reduce((sum, { length }) => sum + length + 1, 0);
  const titles = 2;
  return (lines + titles) * linePt + recordLinesPt + 24;
}

function hazards(paper: Paper, stop: SheetStop, date: string, measures: Measures): void {
  const rows = hazardRows(stop, measures);
  paper.text(`Hazards: ${hazardCaution(stop, date)}`, { bold: true });
  if (rows.length > 0) table(paper, { heads: hazardHeads, rows });
  paper.gap(3);
}

function neighbours(paper: Paper, stop: SheetStop, measures: Measures): void {
  const rows = neighbourRows(stop, measures);
  if (rows.length === 0) {
    paper.text("Nothing sensitive near", { bold: true });
    return;
  }
  paper.need(40);
  paper.text("Near the field", { bold: true });
  table(paper, { heads: neighbourHeads, rows });
}

function theEnd(paper: Paper): void {
  paper.need(endPt);
  paper.line(1.5);
  paper.gap(4);
  paper.text("At the end of the day", { bold: true });
  blanks(paper, [
    ["back at", 1],
    ["what is left over of products", 3],
  ]);
  blanks(paper, [
    ["remarks", 2],
    ["crew lead, signature", 2],
  ]);
}
