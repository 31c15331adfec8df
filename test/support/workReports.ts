import { groundOf } from "../../shared/done/ground.ts";
import { type KeptReport, keptReportSchema, type WorkReport } from "../../shared/done/workReport.ts";
import type { Plan } from "../../shared/plan/plan.ts";

export const uuid = (number: number) => `00000000-0000-4000-8000-${number.toString(16).padStart(12, "0")}`;
export const planId = uuid(0xabc);

/** A report as it is kept, of a crew-day of the plan, received a second after it happened. */
export function keptReport(
  plan: Pick<Plan, "blocks">,
  day: { readonly crewId: string; readonly date: string },
  report: Partial<WorkReport> & Pick<WorkReport, "kind" | "id" | "at">,
  more: Partial<KeptReport> = {},
): KeptReport {
  const { blockId } = report as { blockId?: string };
  const block = plan.blocks.find(({ id }) => id === blockId);
  return keptReportSchema.parse({
    report: { publication: 1, ...report },
    planId,
    ...day,
    ground: block ? groundOf(block) : null,
    receivedAt: new Date(Date.parse(report.at) + 1000).toISOString(),
    byName: "Phone of crew 1",
    ...more,
  });
}
