import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import { crewSheet } from "../../shared/plan/crewSheet.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { crewSheetText } from "../../shared/plan/text.ts";
import { BadInput, exitCodes, loadScenario, print, printJson } from "./output.ts";
import { badPlan, readPlan } from "./plan/readPlan.ts";

async function readBoth(dir: string, file: string): Promise<{ operation: Operation; plan: Plan }> {
  return { operation: await loadScenario(dir), plan: await readPlan(file) };
}

export async function checkVerb(dir: string, file: string, options: { readonly json?: boolean }): Promise<number> {
  const { operation, plan } = await readBoth(dir, file);
  const report = checkPlan(operation, plan);
  if (options.json) printJson(report);
  else printReport(operation, plan, report);
  return report.ok ? exitCodes.good : exitCodes.answerIsNo;
}

/** Our choice: further breaches are mostly of the same kind; --json lists them all. */
const mostBreaches = 20;

function printReport({ settings }: Operation, plan: Plan, { ok, checked, breaches }: CheckReport): void {
  const isForThis = breaches.every(({ rule }) => rule !== "sameOperation");
  if (!isForThis) {
    const named = operationWords({ ...plan, name: plan.operationName });
    print(`the plan names another operation: ${named}; this one is ${operationWords(settings)}`);
  }
  const checks = Object.values(checked);
  const examined = checks.filter((count) => count > 0).length;
  print(`${examined} rules examined, ${checks.reduce((sum, count) => sum + count, 0)} times`);
  const others = breaches.filter(({ rule }) => rule !== "sameOperation");
  for (const { rule, sentence } of others.slice(0, mostBreaches)) print(`broken: ${rule}: ${sentence}`);
  if (others.length > mostBreaches) print(`and ${others.length - mostBreaches} more; --json lists all`);
  print(ok ? "none broken" : `${breaches.length} breaches`);
}

type Named = Pick<Operation["settings"], "name" | "firstDay" | "days" | "timeZone">;

function operationWords({ name, firstDay, days, timeZone }: Named): string {
  return `"${name}" from ${firstDay}, ${days} ${days === 1 ? "day" : "days"}, ${timeZone}`;
}

export async function sheetVerb(
  dir: string,
  file: string,
  options: { readonly crew: string; readonly date: string; readonly json?: boolean },
): Promise<number> {
  const { operation, plan } = await readBoth(dir, file);
  const report = checkPlan(operation, plan);
  if (!report.ok) throw badPlan(dir, file, report.breaches);
  const sheet = crewSheet(operation, plan, options.crew, options.date);
  if (sheet === null) {
    const days = plan.crewDays.map(({ crewId, date }) => `${crewId} ${date}`);
    throw new BadInput([
      `the plan has no day of ${options.crew} on ${options.date}; expected one of ${days.join(", ")}`,
    ]);
  }
  if (options.json) printJson(sheet);
  else print(crewSheetText(sheet));
  return exitCodes.good;
}
