import type { CrewSheet } from "../../../shared/plan/crewSheet.ts";
import { clockOn } from "../../../shared/plan/sheetWords.ts";
import type { Paper } from "../page/paper.ts";

const windowPt = 9;
const workPt = 13;
const minutesPerHour = 60;

/** The day drawn to time: the calm hours as a light band, the stops in them below, so that one sees how much room each has. */
export function dayStrip(paper: Paper, sheet: CrewSheet): void {
  const { doc, leftPt, widthPt } = paper;
  const [fromMin, toMin] = [sheet.leaveBy.min, sheet.backAt.min];
  const ptPerMin = widthPt / Math.max(1, toMin - fromMin);
  const xOf = (min: number) => leftPt + (Math.max(fromMin, Math.min(toMin, min)) - fromMin) * ptPerMin;
  const topPt = paper.yPt + 10;
  for (const { window } of sheet.stops) {
    if (window === null) continue;
    const [x, end] = [xOf(window.from.min), xOf(window.to.min)];
    doc.rect(x, topPt, end - x, windowPt + workPt).fill("#e4e4e4");
  }
  for (const row of sheet.timeline) {
    const [x, end] = [xOf(row.start.min), xOf(row.end.min)];
    const yPt = topPt + windowPt + workPt / 2;
    if (row.kind === "drive") doc.lineWidth(1.2).moveTo(x, yPt).lineTo(end, yPt).stroke("black");
    else if (row.kind === "pause" || row.kind === "wait") {
      doc.lineWidth(0.8).dash(1.5, { space: 1.5 }).moveTo(x, yPt).lineTo(end, yPt).stroke("black").undash();
    } else if (row.kind !== "work" && row.kind !== "goOn") {
      doc
        .lineWidth(0.6)
        .rect(x, yPt - 3, end - x, 6)
        .fillAndStroke("white", "black");
    }
  }
  for (const stop of sheet.stops) {
    const ends = [...stop.pauses.map(({ start }) => start.min), stop.end.min];
    const starts = [stop.start.min, ...stop.pauses.map(({ end }) => end.min)];
    starts.forEach((startMin, at) => {
      const [x, end] = [xOf(startMin), xOf(ends[at]!)];
      doc
        .lineWidth(0.5)
        .rect(x, topPt + windowPt, end - x, workPt)
        .fillAndStroke("black", "white");
      const words = `${stop.number}`;
      if (end - x < paper.widthOf(words, { bold: true, sizePt: 8 }) + 2) return;
      paper.use({ bold: true, sizePt: 8 }).fillColor("white");
      doc.text(words, x, topPt + windowPt + 2, { width: end - x, align: "center", lineBreak: false });
    });
  }
  doc.fillColor("black");
  hours(paper, sheet, xOf, topPt);
  paper.yPt = topPt + windowPt + workPt + 14;
  paper.text(
    "Grey: hours in which the forecast allows the work. Black: stops by number. Line: driving. Dots: pause or waiting. White: setting up, packing up, cleaning, filling.",
    { sizePt: 7 },
  );
}

function hours(paper: Paper, { leaveBy, backAt, date }: CrewSheet, xOf: (min: number) => number, topPt: number): void {
  const { doc } = paper;
  const bottomPt = topPt + windowPt + workPt;
  doc
    .lineWidth(0.5)
    .rect(paper.leftPt, topPt, paper.widthPt, windowPt + workPt)
    .stroke("black");
  const [hour = 0, minute = 0] = leaveBy.clock.split(":").map(Number);
  // Our choice: past a clock change the hours of the strip go on as they were; the times beside the stops are right.
  for (let min = leaveBy.min + ((minutesPerHour - minute) % minutesPerHour); min < backAt.min; min += minutesPerHour) {
    const told = Math.round((min - leaveBy.min + minute) / minutesPerHour) + hour;
    doc
      .lineWidth(0.5)
      .moveTo(xOf(min), bottomPt)
      .lineTo(xOf(min), bottomPt + 3)
      .stroke("black");
    paper.wordsAt(`${told % 24}`, xOf(min) - 10, bottomPt + 4, { sizePt: 7, widthPt: 20, align: "center" });
  }
  paper.wordsAt(`leave ${leaveBy.clock}`, paper.leftPt, topPt - 10, { sizePt: 7.5, bold: true });
  paper.wordsAt(`back ${clockOn(backAt, date)}`, paper.leftPt, topPt - 10, { sizePt: 7.5, bold: true, align: "right" });
}
