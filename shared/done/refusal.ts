import type { Plan } from "../plan/plan.ts";
import { stopsOf } from "../plan/totals.ts";
import type { WorkReport } from "./workReport.ts";

/** Why a report of a crew-day cannot be about the plan that it names; null: nothing against it. `plan`: null where no plan was published by that number. */
export function refusalOf(
  plan: Pick<Plan, "blocks" | "crewDays"> | null,
  { crewId, date }: { readonly crewId: string; readonly date: string },
  report: WorkReport,
): string | null {
  if (plan === null) return `No plan was published as number ${report.publication}.`;
  if (report.kind === "correction") return null;
  const isThere = stopsOf(plan).some(
    ({ block, crewDay }) => block.id === report.blockId && crewDay.crewId === crewId && crewDay.date === date,
  );
  if (isThere) return null;
  return `The plan published as number ${report.publication} has no stop at ${report.blockId} for crew ${crewId} on ${date}.`;
}
