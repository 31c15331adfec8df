import type { CalmHours } from "../../../../../shared/plan/calmHours.ts";
import type { StopView } from "../../../../../shared/plan/weekOrders.ts";
import type { CrewDayView, SpanView, WeekView } from "../../../../../shared/plan/weekView.ts";
import { type Bars, barsPath, type SpanKind, spanKinds, tidePath } from "./paths.ts";

/*
 * Where everything of the week stands on the board, in px. Time runs to the right, the same hours of every day one under
 * the other; under each crew's day lies how much of what it could do is open, as a tide that rises and falls.
 */

export const skyHeightPx = 58;
/** Where the clocks stand. */
const clocksPx = 17;
export const laneHeightPx = 40;
/** Of a crew that stays at home. */
export const idleHeightPx = 22;

const minutesPerHour = 60;
const minutesPerDay = 1440;
/** An hour of less cannot be told apart from its neighbours: the board scrolls then. */
const leastPxPerHour = 40;
const namePx = 72;
/** Of a stop's borders and the sign of its method, and of each figure beside them; narrower ones are written smaller. */
const numberPx = { beside: 14, figure: 9 };
const smallNumberPx = { beside: 9, figure: 8 };

export interface BoardScale {
  /** Minutes after local midnight, as they pass and not as the clocks say. */
  readonly fromMin: number;
  readonly toMin: number;
  readonly widthPx: number;
  readonly pxPerMin: number;
}

export interface LaidStop {
  readonly stop: StopView;
  /** 1 for the first of the day. */
  readonly number: number;
  readonly leftPx: number;
  readonly widthPx: number;
  readonly shows: "name" | "number" | "smallNumber" | "nothing";
  readonly pauses: readonly { readonly leftPx: number; readonly widthPx: number }[];
}

export interface LaidLane {
  readonly crewId: string;
  readonly crewName: string;
  readonly base: string;
  readonly date: string;
  readonly shift: { readonly from: string; readonly to: string } | null;
  readonly crewDay: CrewDayView | null;
  /** Where it leaves its base; 0 where it stays at home. */
  readonly leavePx: number;
  readonly stops: readonly LaidStop[];
  readonly spans: readonly { readonly kind: SpanKind; readonly path: string }[];
  /** Of what its outfit could do; empty where it is not known. */
  readonly tide: string;
}

export interface LaidHour {
  /** Which hour of the day it is, from 0. */
  readonly at: number;
  readonly leftPx: number;
  readonly widthPx: number;
  readonly hour: CalmHours["days"][number]["hours"][number];
}

export interface LaidDay {
  readonly date: string;
  readonly startMin: number;
  readonly ticks: readonly { readonly leftPx: number; readonly clock: string }[];
  readonly nights: readonly { readonly leftPx: number; readonly widthPx: number }[];
  readonly hours: readonly LaidHour[];
  /** Of all orders, for whatever aircraft. */
  readonly tide: string;
  /** Crews that go out or could. */
  readonly lanes: readonly LaidLane[];
  /** Names of crews that are off. */
  readonly off: readonly string[];
}

/** Minute at which each day of the week begins. */
export function dayStarts(days: WeekView["days"]): number[] {
  let startMin = 0;
  return days.map(({ clockShiftMin }) => {
    const own = startMin;
    startMin += minutesPerDay - clockShiftMin;
    return own;
  });
}

/** From an hour before the sun rises or the first crew leaves to an hour after it sets or the last is back. */
export function boardScale(week: WeekView, roomPx: number): BoardScale {
  const starts = dayStarts(week.days);
  const first: number[] = [];
  const last: number[] = [];
  for (const [day, { sunrise, sunset }] of week.days.entries()) {
    first.push(sunrise === null ? 0 : sunrise.min - starts[day]!);
    last.push(sunset === null ? minutesPerDay : sunset.min - starts[day]!);
    for (const { days } of week.crews) {
      const crewDay = days[day]?.crewDay;
      if (!crewDay) continue;
      first.push(crewDay.leave.min - starts[day]!);
      last.push(crewDay.back.min - starts[day]!);
    }
  }
  const fromMin = Math.floor(Math.min(...first) / minutesPerHour) * minutesPerHour;
  const toMin = Math.ceil(Math.max(...last) / minutesPerHour) * minutesPerHour;
  const hours = (toMin - fromMin) / minutesPerHour;
  const widthPx = Math.max(Math.floor(roomPx), hours * leastPxPerHour);
  return { fromMin, toMin, widthPx, pxPerMin: widthPx / (toMin - fromMin) };
}

export function layWeek(week: WeekView, calm: CalmHours | null, scale: BoardScale): LaidDay[] {
  const starts = dayStarts(week.days);
  const mostOpenHa = Math.max(1, ...(calm?.days.flatMap(({ hours }) => hours.map(({ openHa }) => openHa)) ?? []));
  const calmOfCrew = new Map(calm?.crews.map((one) => [`${one.crewId} ${one.date}`, one]));
  return week.days.map((dayView, day): LaidDay => {
    const startMin = starts[day]!;
    const { date } = dayView;
    const pxOf = (min: number) => (min - startMin - scale.fromMin) * scale.pxPerMin;
    const widthOf = (minutes: number) => minutes * scale.pxPerMin;
    const calmDay = calm?.days.find((one) => one.date === date);
    const hours = (calmDay?.hours ?? []).flatMap((hour, at): LaidHour[] => {
      const leftPx = Math.max(0, pxOf(hour.start.min));
      const rightPx = Math.min(scale.widthPx, pxOf(hour.end.min));
      return rightPx <= leftPx ? [] : [{ at, hour, leftPx, widthPx: rightPx - leftPx }];
    });
    const cells = week.crews.map((crew) => ({ crew, cell: crew.days.find((one) => one.date === date) }));
    return {
      date,
      startMin,
      ticks: ticksOf(hours, scale),
      nights: nightsOf(dayView, pxOf, scale),
      hours,
      tide: tidePath(
        hours.map(({ hour, leftPx, widthPx }) => ({ leftPx, widthPx, share: hour.openHa / mostOpenHa })),
        skyHeightPx,
        clocksPx,
      ),
      lanes: cells.flatMap(({ cell, crew }): LaidLane[] => {
        if (!cell || (cell.shift === null && cell.crewDay === null)) return [];
        const open = calmOfCrew.get(`${crew.id} ${date}`);
        const most = open === undefined ? 0 : mostOfCrew(calm!, crew.id);
        return [
          {
            crewId: crew.id,
            crewName: crew.name,
            base: crew.base,
            date,
            shift: cell.shift,
            crewDay: cell.crewDay,
            leavePx: cell.crewDay === null ? 0 : pxOf(cell.crewDay.leave.min),
            stops: (cell.crewDay?.stops ?? []).map((stop, at) => layStop(stop, at + 1, pxOf, widthOf)),
            spans: laySpans(cell.crewDay?.spans ?? [], pxOf, widthOf),
            tide:
              open === undefined || most === 0
                ? ""
                : tidePath(
                    hours.map(({ at, leftPx, widthPx }) => ({
                      leftPx,
                      widthPx,
                      share: open.openHa[at]! / most,
                    })),
                    cell.crewDay === null ? idleHeightPx : laneHeightPx,
                  ),
          },
        ];
      }),
      off: cells.flatMap(({ cell, crew }) => (cell && (cell.shift || cell.crewDay) ? [] : [crew.name])),
    };
  });
}

function layStop(
  stop: StopView,
  number: number,
  pxOf: (min: number) => number,
  widthOf: (minutes: number) => number,
): LaidStop {
  const leftPx = pxOf(stop.start.min);
  const widthPx = widthOf(stop.end.min - stop.start.min);
  return {
    stop,
    number,
    leftPx,
    widthPx,
    shows: showsOf(number, widthPx),
    pauses: stop.pauses.map(({ end, start }) => ({
      leftPx: pxOf(start.min) - leftPx,
      widthPx: widthOf(end.min - start.min),
    })),
  };
}

/** A number that would be cut off is left out: the stop's name for screen readers has it, and so has the list of the day. */
function showsOf(number: number, widthPx: number): LaidStop["shows"] {
  const figures = String(number).length;
  const isRoomFor = ({ beside, figure }: typeof numberPx) => widthPx >= beside + figures * figure;
  if (widthPx >= namePx) return "name";
  if (isRoomFor(numberPx)) return "number";
  return isRoomFor(smallNumberPx) ? "smallNumber" : "nothing";
}

/** All that is between stops as one path for each kind, so that a week of many crews has few things to draw. */
function laySpans(
  spans: readonly SpanView[],
  pxOf: (min: number) => number,
  widthOf: (minutes: number) => number,
): LaidLane["spans"] {
  return spanKinds.flatMap((kind) => {
    const bars: Bars = spans
      .filter((span) => span.kind === kind)
      .map(({ end, start }) => ({ leftPx: pxOf(start.min), widthPx: widthOf(end.min - start.min) }));
    return bars.length === 0 ? [] : [{ kind, path: barsPath(kind, bars) }];
  });
}

function ticksOf(hours: readonly LaidHour[], { pxPerMin }: BoardScale): LaidDay["ticks"] {
  // Every hour where there is room for its clock, else every second or third.
  const every = [1, 2, 3, 4, 6].find((step) => step * minutesPerHour * pxPerMin >= 52) ?? 6;
  return hours.flatMap(({ hour: { start }, leftPx }, place) =>
    place > 0 && Number(start.clock.slice(0, 2)) % every === 0 && start.clock.endsWith(":00")
      ? [{ leftPx, clock: start.clock }]
      : [],
  );
}

function nightsOf(
  { sunrise, sunset }: WeekView["days"][number],
  pxOf: (min: number) => number,
  { widthPx }: BoardScale,
): LaidDay["nights"] {
  const clamped = (px: number) => Math.min(widthPx, Math.max(0, px));
  const upPx = sunrise === null ? 0 : clamped(pxOf(sunrise.min));
  const downPx = sunset === null ? widthPx : clamped(pxOf(sunset.min));
  return [
    { leftPx: 0, widthPx: upPx },
    { leftPx: downPx, widthPx: widthPx - downPx },
  ].filter((night) => night.widthPx > 0);
}

function mostOfCrew({ crews }: CalmHours, crewId: string): number {
  return Math.max(0, ...crews.filter((one) => one.crewId === crewId).flatMap(({ openHa }) => openHa));
}
