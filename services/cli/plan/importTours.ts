import { readFile, writeFile } from "node:fs/promises";
import { readTours } from "../../../shared/contracts/tours.ts";
import { type Fault, pathText, valueText } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { weekText } from "../../../shared/plan/text.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { counted } from "../../../shared/plan/words.ts";
import { parseJson } from "../../scenario/jsonText.ts";
import { planTours } from "../../solver/outside/planTours.ts";
import type { TourRun } from "../../solver/outside/runTours.ts";
import { BadInput, exitCodes, print, printJson, remark } from "../output.ts";

/** The plan that tours from outside come to, and what of them does not run. */
export async function importTours(
  operation: Operation,
  file: string,
  options: { readonly out?: string; readonly json?: boolean },
): Promise<number> {
  const read = readTours(await readJson(file));
  if (!read.ok) throw refusal(file, read.faults);
  const planned = planTours(operation, read.tours);
  if (!planned.ok) throw refusal(file, planned.faults);
  const { plan, runs } = planned;
  const check = checkPlan(operation, plan);
  if (options.json) printJson({ plan, check, tours: runs });
  else {
    print(weekText(weekView(operation, plan, check)));
    print("");
    for (const run of runs) print(runWords(run));
    for (const { rule, sentence } of check.breaches) print(`broken: ${rule}: ${sentence}`);
  }
  const isGood = check.ok && runs.every(({ stopped }) => stopped === undefined);
  if (options.out !== undefined) {
    if (check.ok) await writeFile(options.out, `${JSON.stringify(plan, null, 1)}\n`);
    else remark(`the checker found ${check.breaches.length} breaches: this plan is not good and was not written`);
  }
  return isGood ? exitCodes.good : exitCodes.answerIsNo;
}

async function readJson(file: string): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch (error) {
    throw new BadInput([`--import-tours ${file}: ${(error as Error).message}; expected a file of tours as JSON`]);
  }
  const parsed = parseJson(text);
  if (parsed.ok) return parsed.value;
  throw new BadInput([
    `${file} is refused:`,
    ...parsed.faults.map(
      ({ line, column, value, expected }) => `  line ${line}, column ${column}: ${value}; expected ${expected}`,
    ),
  ]);
}

function refusal(file: string, faults: readonly Fault[]): BadInput {
  return new BadInput([
    `${file} is refused:`,
    ...faults.map(
      ({ path, value, expected }) =>
        `  ${pathText(path) || "the whole file"}: ${valueText(value)}; expected ${expected}`,
    ),
  ]);
}

function runWords({ crewId, date, stops, ran, stopped }: TourRun): string {
  const crewDay = `${crewId} ${date}`;
  if (stopped === undefined) return `${crewDay}: ${stops === 1 ? "its only stop runs" : `all ${stops} stops run`}`;
  const after = stops - ran - 1;
  const left = after > 0 ? `; nor was what comes after it tried (${counted(after, "stop", "stops")})` : "";
  return `${crewDay}: stop ${stopped.stop} of ${stops}, ${stopped.blockId}, does not run: ${stopped.reason}${left}`;
}
