import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { daysBetweenDates } from "../../kit/dates.ts";

/** Where a stop is to go: on that day of that crew after that stop; null: as its first. */
export interface Target {
  readonly crewId: string;
  readonly date: string;
  readonly after: string | null;
}

export interface Moving {
  readonly blockId: string;
  readonly to: Target;
}

export interface MoveLane {
  readonly crewId: string;
  readonly crewName: string;
  readonly date: string;
  readonly stops: readonly {
    readonly blockId: string;
    readonly fieldName: string;
    readonly startMin: number;
    readonly clock: string;
    readonly endMin: number;
  }[];
}

/** Days on which crews could go out, as they stand on the board. */
export function moveLanes(week: WeekView): MoveLane[] {
  return week.days.flatMap(({ date }) =>
    week.crews.flatMap(({ days, id, name }) => {
      const cell = days.find((one) => one.date === date);
      if (!cell || (cell.shift === null && cell.crewDay === null)) return [];
      const stops = (cell.crewDay?.stops ?? []).map(({ blockId, end, fieldName, start }) => ({
        blockId,
        fieldName,
        startMin: start.min,
        clock: start.clock,
        endMin: end.min,
      }));
      return [{ crewId: id, crewName: name, date, stops }];
    }),
  );
}

/** A stop that is taken up stays where it is at first. */
export function takeUp(lanes: readonly MoveLane[], blockId: string): Moving | null {
  for (const { crewId, date, stops } of lanes) {
    const at = stops.findIndex((stop) => stop.blockId === blockId);
    if (at >= 0) return { blockId, to: { crewId, date, after: stops[at - 1]?.blockId ?? null } };
  }
  return null;
}

/** Where a form for moving begins: where the block stands, or else where its reason says that it might. */
export function laneAtFirst(week: Pick<WeekView, "conflicts">, lanes: readonly MoveLane[], blockId: string): number {
  const conflict = week.conflicts.find(({ blocks }) => blocks.some((block) => block.blockId === blockId));
  const { crewDay, fitsAlone } = conflict?.evidence ?? {};
  const at = lanes.findIndex(
    (lane) =>
      lane.stops.some((stop) => stop.blockId === blockId) ||
      [crewDay, fitsAlone].some((told) => isOfEvidence(lane, told)),
  );
  return Math.max(0, at);
}

function isOfEvidence({ crewId, date }: MoveLane, told: unknown): boolean {
  if (typeof told !== "object" || told === null) return false;
  return "crewId" in told && told.crewId === crewId && "date" in told && told.date === date;
}

/** Earlier or later in the same day; at either end it stays. */
export function along(lanes: readonly MoveLane[], { blockId, to }: Moving, steps: 1 | -1): Moving {
  const places = placesIn(laneOf(lanes, to), blockId);
  const at = places.indexOf(to.after) + steps;
  return { blockId, to: { ...to, after: places[Math.min(places.length - 1, Math.max(0, at))]! } };
}

/** To the lane above or below, as near to its own time as it can. */
export function across(lanes: readonly MoveLane[], { blockId, to }: Moving, steps: 1 | -1): Moving {
  const lane = lanes[lanes.findIndex((one) => isOf(one, to)) + steps];
  if (lane === undefined) return { blockId, to };
  const own = lanes.flatMap(({ stops }) => stops).find((stop) => stop.blockId === blockId);
  const ownLane = lanes.find(({ stops }) => stops.some((stop) => stop.blockId === blockId));
  // On another day the same time of day is meant.
  const shiftMin = ownLane === undefined ? 0 : daysBetweenDates(ownLane.date, lane.date) * minutesPerDay;
  return { blockId, to: atMinute(lane, blockId, (own?.startMin ?? 0) + shiftMin) };
}

const minutesPerDay = 1440;

/** After the last stop whose middle lies before the minute. */
export function atMinute(lane: MoveLane, blockId: string, min: number): Target {
  const before = lane.stops.filter((stop) => stop.blockId !== blockId && (stop.startMin + stop.endMin) / 2 < min);
  return { crewId: lane.crewId, date: lane.date, after: before.at(-1)?.blockId ?? null };
}

/** What comes before each place that there is in a day for the block. */
export function placesIn(lane: MoveLane | undefined, blockId: string): (string | null)[] {
  return [null, ...(lane?.stops ?? []).map((stop) => stop.blockId).filter((id) => id !== blockId)];
}

export function laneOf(lanes: readonly MoveLane[], to: Target): MoveLane | undefined {
  return lanes.find((lane) => isOf(lane, to));
}

export function isSameTarget(a: Target, b: Target): boolean {
  return isOf(a, b) && a.after === b.after;
}

function isOf(lane: { readonly crewId: string; readonly date: string }, to: Target): boolean {
  return lane.crewId === to.crewId && lane.date === to.date;
}
