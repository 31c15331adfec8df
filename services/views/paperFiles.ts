import { crewSheet } from "../../shared/plan/crewSheet.ts";
import { dayMap } from "../../shared/plan/dayMap.ts";
import { measuresOf } from "../../shared/plan/measures.ts";
import { weekMap } from "../../shared/plan/weekMap.ts";
import { weekView } from "../../shared/plan/weekView.ts";
import { crewCalendarText } from "../papers/calendar.ts";
import { fileName } from "../papers/fileName.ts";
import { dayMapDocument, mapFormats, weekMapDocument } from "../papers/geo/mapFiles.ts";
import { recordPdf } from "../papers/record/recordPdf.ts";
import { crewDayPdf } from "../papers/sheet/crewDayPdf.ts";
import { weekTables } from "../papers/tables/weekTables.ts";
import { weekPdf } from "../papers/week/weekPdf.ts";
import type { MadeView, RecordPaper, Viewed, WantedPaper } from "./wanted.ts";

type WantedFile = Exclude<WantedPaper, { kind: "calm" }>;
type Of<Kind extends WantedFile["kind"]> = Extract<WantedFile, { kind: Kind }>;

const textFile = (text: string, name: string): MadeView => ({ bytes: Buffer.from(text), fileName: name });

/** Null where the plan has no such crew, or it does not go out that day. */
export async function paperFile(viewed: Viewed, wanted: WantedFile): Promise<MadeView | null> {
  const { operation, plan, report } = viewed;
  const { name, firstDay } = operation.settings;
  switch (wanted.kind) {
    case "sheetPdf":
      return sheetFile(viewed, wanted);
    case "dayFile":
      return dayMapFile(viewed, wanted);
    case "fieldsFile": {
      const text = mapFormats[wanted.format].write(weekMapDocument(weekMap(operation, plan), name, wanted.source));
      return textFile(text, fileName([name, firstDay], wanted.format));
    }
    case "weekPdf": {
      const { source, size, units } = wanted;
      const view = weekView(operation, plan, report);
      const bytes = await weekPdf({ view, source, size, measures: measuresOf[units] });
      return { bytes, fileName: fileName([name, firstDay], "pdf") };
    }
    case "table": {
      const text = weekTables[wanted.table](weekView(operation, plan, report));
      return textFile(text, fileName([name, firstDay, wanted.table], "csv"));
    }
    case "calendar":
      return calendarFile(viewed, wanted);
  }
}

async function sheetFile(
  { operation, plan }: Viewed,
  { crewId, date, source, size, units }: Of<"sheetPdf">,
): Promise<MadeView | null> {
  const measures = measuresOf[units];
  const sheet = crewSheet(operation, plan, crewId, date, measures);
  const map = dayMap(operation, plan, crewId, date);
  if (sheet === null || map === null) return null;
  const bytes = await crewDayPdf({ sheet, map, source, size, measures });
  return { bytes, fileName: fileName([sheet.crewName, date], "pdf") };
}

function dayMapFile({ operation, plan }: Viewed, { crewId, date, source, format }: Of<"dayFile">): MadeView | null {
  const map = dayMap(operation, plan, crewId, date);
  if (map === null) return null;
  const crewName = operation.fleet.crews.find(({ id }) => id === crewId)!.name;
  const text = mapFormats[format].write(dayMapDocument(map, crewName, source));
  return textFile(text, fileName([crewName, date], format));
}

function calendarFile({ operation, plan }: Viewed, { crewId, publication }: Of<"calendar">): MadeView | null {
  const crew = operation.fleet.crews.find(({ id }) => id === crewId);
  if (crew === undefined) return null;
  const text = crewCalendarText({
    operation,
    plan,
    crewId,
    operationKey: publication.operationId,
    publication: publication.number,
    toldAt: new Date(publication.createdAt),
  });
  return textFile(text, fileName([crew.name], "ics"));
}

export async function recordFile({ told, size, units }: RecordPaper): Promise<MadeView> {
  const bytes = await recordPdf({ told, size, measures: measuresOf[units] });
  return { bytes, fileName: fileName(["application record", told.record.fieldName, told.record.date], "pdf") };
}
