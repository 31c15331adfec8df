import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { createCalendar } from "../../shared/model/calendar.ts";
import { lockedAsItStands } from "../../shared/plan/lockedAsItStands.ts";
import { worksOf } from "../../shared/plan/totals.ts";
import { counted } from "../../shared/plan/words.ts";
import { fileOfPart } from "../scenario/faults.ts";
import { BadInput, exitCodes, loadScenario, printJson, remark } from "./output.ts";
import { readPlan } from "./plan/readPlan.ts";

/** The lock that keeps a crew's day of a plan as it stands, printed, or put among the folder's locks in place of that crew-day's own. */
export async function lockVerb(
  dir: string,
  file: string,
  options: { readonly crew: string; readonly date: string; readonly save?: boolean },
): Promise<number> {
  const operation = await loadScenario(dir);
  const plan = await readPlan(file);
  const isIt = ({ crewId, date }: { readonly crewId: string; readonly date: string }) =>
    crewId === options.crew && date === options.date;
  const crewDay = plan.crewDays.find(isIt);
  if (crewDay === undefined) {
    const days = plan.crewDays.map(({ crewId, date }) => `${crewId} ${date}`);
    throw new BadInput([
      `the plan has no day of ${options.crew} on ${options.date}; expected one of ${days.join(", ")}`,
    ]);
  }
  const lock = lockedAsItStands(createCalendar(plan), plan, crewDay);
  printJson(lock);
  if (options.save) {
    const locks = [...operation.locks.filter((one) => !isIt(one)), lock];
    await writeFile(join(dir, fileOfPart.locks), `${JSON.stringify(locks, null, 2)}\n`);
    const stops = counted(worksOf(crewDay).length, "stop", "stops");
    remark(`${join(dir, fileOfPart.locks)}: ${options.crew} ${options.date} with ${stops} is locked as it stands`);
  }
  return exitCodes.good;
}
