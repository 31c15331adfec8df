import { z } from "zod";
import { type Calendar, createCalendar } from "../model/calendar.ts";
import type { BlockId } from "../model/quantities.ts";
import type { Plan } from "../plan/plan.ts";
import { stopProgressSchema } from "../plan/stopProgress.ts";
import { groupBy, type Stop, stopsOf } from "../plan/totals.ts";
import { counted } from "../plan/words.ts";
import { isAhead, isOfOtherDay } from "./clock.ts";
import { groundOf } from "./ground.ts";
import { type Remark, type RemarkKind, remarkSchema } from "./remark.ts";
import { type Standing, standing, withdraws } from "./standing.ts";
import { comeTo, readReport, walkFromStart } from "./stopWalk.ts";
import { type KeptReport, stopReasons } from "./workReport.ts";

export const stopStandSchema = stopProgressSchema.extend({
  areaHa: z.number().positive().describe("of the block"),
  arrivedAt: z.iso.datetime({ offset: true }).nullable(),
  loads: z.number().int().positive().describe("loads that are planned"),
  loadsDone: z.number().int().min(0).describe("reported, or contained in the hectares reported"),
  reason: z.enum(stopReasons).nullable().describe("why it was stopped"),
});
export const progressSchema = z.object({
  stops: z.array(stopStandSchema).describe("in the plan's order"),
  remarks: z.array(remarkSchema).describe("what in the reports does not go together"),
});
export type Progress = z.infer<typeof progressSchema>;

/**
 * How far the stops of a plan have come by what crews have reported, whatever plan their phones had: a report counts where this plan has the same block with the same ground. Depends on the set of
 * reports only. `toldAt`: when the plan was published; what comes in later about ground that it does not have is told.
 */
export function progressOf(
  plan: Pick<Plan, "blocks" | "crewDays" | "timeZone" | "firstDay" | "days">,
  kept: readonly KeptReport[],
  toldAt: string | null,
): Progress {
  const stands = standing(kept);
  const stops = stopsOf(plan);
  const stopOf = new Map<string, Stop>(stops.map((stop) => [stop.block.id, stop]));
  const groundOfBlock = groundsOnce(stopOf);
  const isOf = (one: KeptReport) =>
    one.report.kind !== "correction" &&
    stopOf.has(one.report.blockId) &&
    groundOfBlock(one.report.blockId) === one.ground;
  const here = stands.reports.filter(isOf);
  const remarks: Remark[] = [];
  const tell = (one: KeptReport, kind: RemarkKind, sentence: string) =>
    remarks.push({
      kind,
      reportId: one.report.id,
      crewId: one.crewId,
      date: one.date,
      blockId: blockOf(one),
      sentence,
    });

  const ofBlock = groupBy(here, (one) => blockOf(one)!);
  const told = stops.map(({ block, crewDay, work }) => {
    const walk = walkFromStart();
    for (const one of ofBlock.get(block.id) ?? []) {
      readReport(walk, one, block.areaHa, (kind, sentence) => tell(one, kind, sentence));
      if (one.crewId !== crewDay.crewId || one.date !== crewDay.date) {
        // The crew that reports reads this, too, and is not told the day of another; who has the stop stands in the stops.
        const planned = one.crewId === crewDay.crewId ? "has on another day" : "gives to another crew";
        tell(one, "otherCrew", `Crew ${one.crewId} on ${one.date} reports on ${block.id}, which this plan ${planned}.`);
      }
    }
    const { doneHa, loadsDone } = comeTo(walk, block.areaHa, work.detail.loads);
    return {
      blockId: block.id,
      orderId: block.orderId,
      crewId: crewDay.crewId,
      date: crewDay.date,
      state: walk.state,
      startedAt: walk.startedAt,
      endedAt: walk.endedAt,
      doneHa,
      areaHa: block.areaHa,
      arrivedAt: walk.arrivedAt,
      loads: work.detail.loads,
      loadsDone,
      reason: walk.reason,
    };
  });

  const calendar = createCalendar(plan);
  tellClocks(here, calendar, tell);
  for (const one of stands.reports) {
    if (!isOf(one) && toldAt !== null && Date.parse(one.receivedAt) > Date.parse(toldAt)) {
      tell(
        one,
        "notInPlan",
        `Crew ${one.crewId} reports on ${blockOf(one)} as publication ${one.report.publication} has it; the plan has it no more, or cuts it otherwise.`,
      );
    }
  }
  tellCorrections(stands, tell);
  return { stops: told, remarks };
}

type TellOf = (one: KeptReport, kind: RemarkKind, sentence: string) => void;

const blockOf = ({ report }: KeptReport): BlockId | null => (report.kind === "correction" ? null : report.blockId);

/** A wrong clock is wrong all day: it is told once for a crew-day. */
function tellClocks(kept: readonly KeptReport[], calendar: Calendar, tell: TellOf): void {
  for (const ofDay of groupBy(kept, ({ crewId, date }) => `${crewId} ${date}`).values()) {
    const told = (
      wrong: readonly KeptReport[],
      kind: RemarkKind,
      sentence: (reports: string, first: string) => string,
    ) => {
      const [first] = wrong;
      if (first === undefined) return;
      const min = calendar.minOfInstant(first.report.at);
      const time = `${calendar.clockOfMin(min)} on ${calendar.dateOfMin(min)}`;
      tell(first, kind, sentence(counted(wrong.length, "report", "reports"), time));
    };
    const { crewId, date } = ofDay[0]!;
    told(
      ofDay.filter(isAhead),
      "clockAhead",
      (reports, time) =>
        `In ${reports} the phone of crew ${crewId} names times that were still to come, first ${time}: its clock is wrong.`,
    );
    told(
      ofDay.filter((one) => isOfOtherDay(one, calendar)),
      "otherDay",
      (reports, time) => `In ${reports} of crew ${crewId} for ${date} its phone names another day, first ${time}.`,
    );
  }
}

function tellCorrections({ corrections }: Standing, tell: TellOf): void {
  for (const { correction, named } of corrections) {
    const crew = `Crew ${correction.crewId} withdraws`;
    if (named === null) tell(correction, "withdrawsUnknown", `${crew} a report that has not come in.`);
    else if (named.report.kind === "correction") {
      tell(correction, "withdrawsCorrection", `${crew} a correction, which is not done; report anew instead.`);
    } else if (!withdraws(correction, named)) {
      tell(correction, "withdrawsOthers", `${crew} a report of crew ${named.crewId}; it stays.`);
    }
  }
}

/** Hashing a geometry takes a moment, and most blocks have no report. */
function groundsOnce(stopOf: ReadonlyMap<string, Stop>): (blockId: string) => string {
  const grounds = new Map<string, string>();
  return (blockId) => {
    const ground = grounds.get(blockId) ?? groundOf(stopOf.get(blockId)!.block);
    grounds.set(blockId, ground);
    return ground;
  };
}
