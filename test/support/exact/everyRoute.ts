import { createStanding, standAtBase, walk } from "../../../services/solver/dayWalk.ts";
import type { Kit, Problem } from "../../../services/solver/problem.ts";
import type { DayRun, State } from "../../../services/solver/routes.ts";
import { createDayRun, createState, setOutfit } from "../../../services/solver/state.ts";
import { type Burdens, burdensIn, type Route, standsFor, toRoute } from "./route.ts";

export interface RouteCount {
  /** Orders of blocks that were walked. */
  walked: number;
}

/**
 * Every route of a slot with a kit that is worth taking and that no other stands in for: all orders of all sets of blocks, by appending one stop after the other. An order that does not run
 * is not followed further: what is appended changes nothing before it, and the way home over one more stop is no shorter, roads being those of the road model.
 */
export function everyRoute(problem: Problem, slot: number, kit: Kit, count: RouteCount): Route[] {
  const burdensOf = burdensIn(problem, slot);
  const kept = new Map<number, Route[]>();
  const keep = (route: Route) => {
    const same = kept.get(route.set) ?? [];
    if (same.some((other) => standsFor(other, route))) return;
    kept.set(route.set, [...same.filter((other) => !standsFor(route, other)), route]);
  };
  const firstStarts = new Float64Array(problem.routes.blockCount);
  for (const earliestMin of earliestMinutes(problem, slot)) {
    const state = createState(problem.routes);
    restUntil(problem, state, slot, earliestMin);
    setOutfit(state, slot, kit);
    followOrders(problem, state, slot, kit, earliestMin, burdensOf, firstStarts, count, keep);
  }
  return withoutWorse(kept, isHomeToHome(problem, slot));
}

/** Otherwise the crew may go out at a loss, for what its other day beside a night away saves. */
function isHomeToHome({ routes, placeOfBase, baseOfCrew, slots }: Problem, slot: number): boolean {
  const home = placeOfBase[baseOfCrew[slots[slot]!.crew]!]!;
  return routes.startPlace[slot] === home && routes.endPlace[slot] === home;
}

/** Minutes from which the crew may leave: the shift's first, and each to which the rest after the day before could hold it back. */
function earliestMinutes(problem: Problem, slot: number): number[] {
  const { crew, shiftFromMin } = problem.slots[slot]!;
  const restMin = problem.crews[crew]!.restMinHours * 60;
  const before = problem.slotsOfCrew[crew]!.filter((other) => other < slot);
  const latest = Math.max(
    shiftFromMin,
    ...before.map((other) => Math.ceil(problem.slots[other]!.shiftToMin + restMin)),
  );
  return Array.from({ length: latest - shiftFromMin + 1 }, (_, n) => shiftFromMin + n);
}

/** As if the crew had been back on its day before just so late. */
function restUntil(problem: Problem, state: State, slot: number, earliestMin: number): void {
  const { crew, shiftFromMin } = problem.slots[slot]!;
  if (earliestMin === shiftFromMin) return;
  const before = problem.slotsOfCrew[crew]!.filter((other) => other < slot).at(-1)!;
  state.count[before] = 1;
  state.backMin[before] = earliestMin - problem.crews[crew]!.restMinHours * 60;
  state.leaveMin[before] = state.backMin[before]!;
}

function followOrders(
  problem: Problem,
  state: State,
  slot: number,
  kit: Kit,
  earliestMin: number,
  burdensOf: Burdens,
  /** Of each block as the first stop, the minute at which it began when the crew left a minute earlier: where it is the same, so is the rest of the day. */
  firstStarts: Float64Array,
  count: RouteCount,
  found: (route: Route) => void,
): void {
  const { stride, blockCount } = problem.routes;
  const { shiftToMin } = problem.slots[slot]!;
  const standing = createStanding(stride);
  const ahead = createDayRun(stride);
  const whole = createDayRun(stride);
  const held = slot * stride;
  standAtBase(problem, state, slot, kit, earliestMin, standing);
  const leastDutyMin = leastDuty(problem, slot, kit);
  const dutyMaxMin = problem.crews[problem.slots[slot]!.crew]!.dutyMaxHoursPerDay * 60;
  const append = (depth: number, set: number) => {
    for (let block = 0; block < blockCount; block++) {
      if ((set & (1 << block)) !== 0) continue;
      count.walked++;
      ahead.stops[depth] = block;
      ahead.count = depth + 1;
      if (!walk(problem, state, slot, kit, depth, shiftToMin, ahead, standing, true, null)) continue;
      if (depth === 0) {
        if (firstStarts[block] === ahead.starts[0]) continue;
        firstStarts[block] = ahead.starts[0]!;
      }
      if (leastDutyMin(ahead) > dutyMaxMin) continue;
      state.sequence[held + depth] = block;
      state.count[slot] = depth + 1;
      if (state.rules!.run(slot, -1, 0, whole)) {
        found(toRoute(problem, slot, kit, whole, burdensOf));
      }
      append(depth + 1, set | (1 << block));
    }
    state.count[slot] = depth;
  };
  append(0, 0);
}

/** Minutes that a day with these stops takes at least, without waits and refills and with full batteries: no less with more stops after them. */
function leastDuty(problem: Problem, slot: number, kit: Kit): (run: DayRun) => number {
  const { work, travelMin, places, types } = problem;
  const start = problem.routes.startPlace[slot]!;
  const end = problem.routes.endPlace[slot]!;
  const type = types[kit.option.type]!;
  const moveMin = (from: number, to: number) => (from === to ? 0 : travelMin[from * places.length + to]!);
  return ({ stops, count }) => {
    let place = start;
    let minutes = 0;
    for (let i = 0; i < count; i++) {
      const pad = work.place(stops[i]!, kit.signature);
      if (pad !== place)
        minutes += moveMin(place, pad) + Math.ceil(type.setupMin) + (i === 0 ? 0 : Math.ceil(type.packupMin));
      minutes += work.minutes(stops[i]!, kit.signature);
      place = pad;
    }
    return minutes + Math.ceil(type.packupMin) + moveMin(place, end);
  };
}

/** Routes that lose nothing by leaving a stop out are left to those without it. */
function withoutWorse(kept: ReadonlyMap<number, Route[]>, mustGain: boolean): Route[] {
  return [...kept.values()].flat().filter((route) => {
    if (mustGain && route.gainCents <= 0) return false;
    for (let rest = route.set; rest !== 0; rest &= rest - 1) {
      const smaller = kept.get(route.set & ~(rest & -rest));
      if (smaller?.some((other) => standsFor(other, route))) return false;
    }
    return true;
  });
}
