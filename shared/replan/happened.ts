import { type Calendar, createCalendar } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { Block, CrewDay, Plan } from "../plan/plan.ts";
import { takesPlaceOf } from "../plan/published.ts";
import type { StopProgress } from "../plan/stopProgress.ts";
import { indexBy, type Work, worksOf } from "../plan/totals.ts";
import type { ReplanAsk, Told } from "./ask.ts";

/** A stop that crews have been told of, and how far it has come; minutes are those of the operation that is planned again. */
export interface ToldStop {
  readonly operation: Operation;
  readonly told: Plan;
  readonly crewDay: CrewDay;
  readonly work: Work;
  readonly block: Block;
  /** Of the work as it was told. */
  readonly startMin: number;
  readonly endMin: number;
  readonly state: StopProgress["state"];
  readonly startedMin: number | null;
  readonly endedMin: number | null;
  readonly doneHa: number;
}

export interface Happened {
  /** Of the plan that crews go by now. */
  readonly stops: readonly ToldStop[];
  /** Begun under earlier plans, and not in this one. */
  readonly earlier: readonly ToldStop[];
}

export function whatHappened({ told }: ReplanAsk, calendar: Calendar): Happened {
  const now = told.at(-1)!;
  let stops = toldStops(now, calendar);
  const earlier: ToldStop[] = [];
  for (const before of told.slice(0, -1)) {
    const taken = takesPlaceOf(before.plan.blocks, now.plan.blocks);
    for (const begun of toldStops(before, calendar).filter(({ state }) => state !== "notBegun")) {
      const same = stops.find(
        (stop) =>
          taken.get(stop.block.id) === begun.block &&
          isSameSize(stop.block, begun.block) &&
          isSameCrewDay(stop.crewDay, begun.crewDay),
      );
      if (same === undefined) earlier.push(begun);
      else if (same.state === "notBegun") {
        const { state, startedMin, endedMin, doneHa } = begun;
        stops = stops.map((stop) => (stop === same ? { ...stop, state, startedMin, endedMin, doneHa } : stop));
      }
    }
  }
  return { stops, earlier };
}

/** What is left of a block is another one, of which nothing is done. */
function isSameSize(one: Block, other: Block): boolean {
  return Math.abs(one.areaHa - other.areaHa) <= sameShare * other.areaHa;
}

const sameShare = 0.005;

function isSameCrewDay(one: CrewDay, other: CrewDay): boolean {
  return one.crewId === other.crewId && one.date === other.date;
}

function toldStops({ plan, operation, progress }: Told, calendar: Calendar): ToldStop[] {
  const blocks = indexBy(plan.blocks, ({ id }) => id);
  const reported = indexBy(progress, ({ blockId }) => blockId);
  const laterMin = minutesLater(plan, calendar);
  return plan.crewDays.flatMap((crewDay) =>
    worksOf(crewDay).flatMap((work): ToldStop[] => {
      const block = blocks.get(work.blockId);
      if (block === undefined) return [];
      const { state, startedAt, endedAt, doneHa } = reported.get(block.id) ?? nothingReported;
      return [
        {
          operation,
          told: plan,
          crewDay,
          work,
          block,
          startMin: work.startMin + laterMin,
          endMin: work.endMin + laterMin,
          state,
          startedMin: startedAt === null ? null : calendar.minOfInstant(startedAt),
          endedMin: endedAt === null ? null : calendar.minOfInstant(endedAt),
          doneHa,
        },
      ];
    }),
  );
}

const nothingReported = { state: "notBegun", startedAt: null, endedAt: null, doneHa: 0 } as const;

/** By how much the minutes of a plan count from an earlier midnight than those of a calendar; negative where they do from a later one. */
export function minutesLater(plan: Pick<Told["plan"], "timeZone" | "firstDay" | "days">, calendar: Calendar): number {
  return Math.round((createCalendar(plan).epochMsOfMin(0) - calendar.epochMsOfMin(0)) / msPerMin);
}

const msPerMin = 60_000;

/** How far people may have come with what they were told when they report nothing: all as it was told. */
export function asTold(plan: Told["plan"], asOfIso: string): StopProgress[] {
  const calendar = createCalendar(plan);
  const nowMin = calendar.minOfInstant(asOfIso);
  const blocks = indexBy(plan.blocks, ({ id }) => id);
  const isoOf = (min: number) => new Date(calendar.epochMsOfMin(min)).toISOString();
  return plan.crewDays.flatMap((crewDay) =>
    worksOf(crewDay).flatMap(({ blockId, startMin, endMin }): StopProgress[] => {
      const block = blocks.get(blockId);
      if (block === undefined || startMin >= nowMin) return [];
      const { crewId, date } = crewDay;
      const isOver = endMin <= nowMin;
      const doneShare = isOver ? 1 : (nowMin - startMin) / (endMin - startMin);
      return [
        {
          blockId,
          orderId: block.orderId,
          crewId,
          date,
          state: isOver ? "finished" : "running",
          startedAt: isoOf(startMin),
          endedAt: isOver ? isoOf(endMin) : null,
          doneHa: doneShare * block.areaHa,
        },
      ];
    }),
  );
}
