import type { Agronomy } from "../agronomy/agronomy.ts";
import { clip, type Interval, totalMin, union } from "../agronomy/intervals.ts";
import { createCalendar } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { Plan } from "./plan.ts";
import { stopsOf, stretchesOf } from "./totals.ts";
import { shiftOf } from "./use.ts";

/** A day's calm hours and what became of them. */
export interface WindowDay {
  readonly date: string;
  /** In which some order was open for an aircraft that there is. */
  readonly openMin: number;
  /** Of these, with a crew on shift. */
  readonly mannedMin: number;
  /** In which some crew worked. */
  readonly workedMin: number;
}

export function windowHours(
  operation: Operation,
  agronomy: Agronomy,
  plan: Pick<Plan, "blocks" | "crewDays">,
): WindowDay[] {
  const calendar = createCalendar(operation.settings);
  const open = openSpans(operation, agronomy);
  const shifts = union(
    operation.fleet.crews.flatMap((crew) => calendar.dates.flatMap((date) => shiftOf(calendar, crew, date))),
  );
  const worked = union(stopsOf(plan).flatMap(({ work }) => stretchesOf(work)));
  return calendar.dates.map((date, day) => {
    const on = (list: readonly Interval[]) =>
      totalMin(clip(list, calendar.dayStartMin[day]!, calendar.dayStartMin[day + 1]!));
    // What both lists have is what they have together less what either has.
    const mannedMin = on(open) + on(shifts) - on(union([...open, ...shifts]));
    return { date, openMin: on(open), mannedMin, workedMin: on(worked) };
  });
}

/** Minutes in which some order may be applied by some aircraft of the operation. */
function openSpans({ fleet, orders }: Operation, agronomy: Agronomy): Interval[] {
  const isThere = new Set(fleet.aircraft.map(({ typeId }) => typeId));
  const night = fleet.crews.some(({ nightWork }) => nightWork);
  const able = orders.filter((order) => agronomy.orderLimits(order).length === 0);
  return union(
    fleet.aircraftTypes
      .filter(({ id }) => isThere.has(id))
      .flatMap((type) =>
        able
          .filter((order) => agronomy.typeLimits(order, type).length === 0)
          .flatMap((order) =>
            agronomy
              .parts(order)
              .flatMap(
                ({ part }) =>
                  agronomy.windows(order, type, part === "rest" ? { night, rest: true } : { night }).windows,
              ),
          ),
      ),
  );
}
