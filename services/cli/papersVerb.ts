import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { crewSheet } from "../../shared/plan/crewSheet.ts";
import { dayMap } from "../../shared/plan/dayMap.ts";
import { type Measures, measuresOf } from "../../shared/plan/measures.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { weekMap } from "../../shared/plan/weekMap.ts";
import { type WeekView, weekView } from "../../shared/plan/weekView.ts";
import type { UnitSystem } from "../../shared/units/units.ts";
import { fileName } from "../papers/fileName.ts";
import { dayMapDocument, mapFormatNames, mapFormats, weekMapDocument } from "../papers/geo/mapFiles.ts";
import type { PaperSize } from "../papers/page/paper.ts";
import type { PaperSource } from "../papers/page/source.ts";
import { crewDayPdf } from "../papers/sheet/crewDayPdf.ts";
import { weekTableNames, weekTables } from "../papers/tables/weekTables.ts";
import { weekPdf } from "../papers/week/weekPdf.ts";
import { exitCodes, loadScenario, print } from "./output.ts";
import { badPlan, readPlan } from "./plan/readPlan.ts";

interface Look {
  readonly size: PaperSize;
  readonly measures: Measures;
}

interface Kept {
  readonly name: string;
  readonly content: Buffer | string;
}

/** All papers of a plan into a folder: a crew-day each for the clipboard and for other programs, the week for the wall and for spreadsheets. */
export async function papersVerb(
  dir: string,
  file: string,
  out: string,
  { size, units }: { readonly size: PaperSize; readonly units: UnitSystem },
): Promise<number> {
  const operation = await loadScenario(dir);
  const plan = await readPlan(file);
  const report = checkPlan(operation, plan);
  if (!report.ok) throw badPlan(dir, file, report.breaches);
  const source = { planName: `seed ${plan.seed}`, publication: null, latest: null, madeAt: new Date() };
  const look = { size, measures: measuresOf[units] };
  const view = weekView(operation, plan, report);
  const kept = [
    ...(await papersOfWeek(operation, plan, view, source, look)),
    ...(await papersOfDays(operation, plan, source, look)),
  ];
  await mkdir(out, { recursive: true });
  for (const { name, content } of kept) await writeFile(join(out, name), content);
  for (const { name } of kept) print(name);
  return exitCodes.good;
}

async function papersOfWeek(
  operation: Operation,
  plan: Plan,
  view: WeekView,
  source: PaperSource,
  look: Look,
): Promise<Kept[]> {
  const document = weekMapDocument(weekMap(operation, plan), operation.settings.name, source);
  return [
    { name: "week.pdf", content: await weekPdf({ view, source, ...look }) },
    ...weekTableNames.map((table) => ({ name: `${table}.csv`, content: weekTables[table](view) })),
    ...mapFormatNames.map((format) => ({ name: `fields.${format}`, content: mapFormats[format].write(document) })),
  ];
}

async function papersOfDays(operation: Operation, plan: Plan, source: PaperSource, look: Look): Promise<Kept[]> {
  const kept: Kept[] = [];
  for (const { crewId, date } of plan.crewDays) {
    const sheet = crewSheet(operation, plan, crewId, date, look.measures)!;
    const map = dayMap(operation, plan, crewId, date)!;
    const document = dayMapDocument(map, sheet.crewName, source);
    kept.push({ name: fileName([date, crewId], "pdf"), content: await crewDayPdf({ sheet, map, source, ...look }) });
    for (const format of mapFormatNames) {
      kept.push({ name: fileName([date, crewId], format), content: mapFormats[format].write(document) });
    }
  }
  return kept;
}
