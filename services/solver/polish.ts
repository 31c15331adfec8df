import { insertAt } from "./insertion.ts";
import { buildModel, type ColumnDraft, type RowDraft } from "./linear/model.ts";
import type { LinearSolver } from "./linear/solver.ts";
import { isAwayAfter, isAwayBefore } from "./nights.ts";
import { clearStops } from "./removal.ts";
import type { DayRun, Outfit, RouteProblem, State } from "./routes.ts";
import { setOutfit, touch } from "./state.ts";

/** An engine, and its limits for each of the times at which routes are put together. */
export interface Polish {
  readonly linear: LinearSolver;
  readonly limits: { readonly timeLimitS?: number; readonly maxNodes?: number };
}

/** Our choice, by trial: so much of the time of a search for each, or so many nodes where every run has to give the same. */
const shareOfTime = 0.05;
const nodes = 10;

export function polishWith(linear: LinearSolver, seconds: number | undefined): Polish {
  return { linear, limits: seconds === undefined ? { maxNodes: nodes } : { timeLimitS: shareOfTime * seconds } };
}

/** A slot's stops in some plan near the best, with what they cost there. */
interface PooledRoute {
  readonly slot: number;
  readonly outfit: Outfit;
  readonly startPlace: number;
  readonly endPlace: number;
  readonly stops: Int32Array;
  readonly cents: number;
  readonly leaveMin: number;
  readonly backMin: number;
}

/** Routes found on the way. Of the same stops in the same kind of slot with the same outfit the cheapest is kept, and of all the latest. */
export interface RoutePool {
  readonly routes: Map<number, PooledRoute>;
  readonly mark: Int32Array;
  readonly most: number;
}

/** Our choice, by trial: a wider pool takes the engine longer than it brings. */
const mostRoutes = 4000;

export function createRoutePool({ routes }: State): RoutePool {
  // Spread numbers by which a set of stops is known (Zobrist 1970, "A New Hashing Method with Application for Game Playing").
  const mark = new Int32Array(routes.blockCount + routes.slotCount);
  for (let i = 0; i < mark.length; i++)
    mark[i] = Math.imul(i + 1, 0x9e3779b1) ^ Math.imul((i + 7) * (i + 3), 0x85ebca6b);
  return { routes: new Map(), mark, most: mostRoutes };
}

/** Remember what slots do. */
export function poolSlots(state: State, pool: RoutePool, slots: readonly number[]): void {
  const { routes, sequence, count } = state;
  for (const slot of slots) {
    const stops = count[slot]!;
    if (stops === 0) continue;
    const held = slot * routes.stride;
    const outfit = state.outfit[slot]!;
    let mixed = pool.mark[routes.blockCount + routes.twin[slot]!]! ^ Math.imul(outfit.profile + 1, 0xc2b2ae35);
    let sum = stops;
    for (let i = held; i < held + stops; i++) {
      const mark = pool.mark[sequence[i]!]!;
      mixed ^= mark;
      sum = (sum + (mark >>> 7)) & 0xfffff;
    }
    if (isAwayBefore(state, slot) || isAwayAfter(state, slot)) mixed ^= awayMark(state, slot, outfit);
    const key = (mixed >>> 0) * 0x100000 + sum;
    const known = pool.routes.get(key);
    const cents = state.slotCents[slot]!;
    if (known !== undefined && known.cents <= cents) continue;
    pool.routes.delete(key);
    pool.routes.set(key, {
      slot,
      outfit,
      startPlace: state.startPlace[slot]!,
      endPlace: state.endPlace[slot]!,
      stops: sequence.slice(held, held + stops),
      cents,
      leaveMin: state.leaveMin[slot]!,
      backMin: state.backMin[slot]!,
    });
    if (pool.routes.size > pool.most) pool.routes.delete(pool.routes.keys().next().value!);
  }
}

/**
 * The plan that costs least of all that can be put together from the pooled routes: a set packing, with rest and week's duty of the crews. Rules between orders of a
 * field are not in the model; stops that do not hold there are left out when the plan is put together. Changes the state. False when the engine found nothing.
 */
export function polish(state: State, pool: RoutePool, best: State, { linear, limits }: Polish, run: DayRun): boolean {
  const { routes } = state;
  const ofBest = routesOf(best);
  const pooled = [...pool.routes.values(), ...ofBest];
  const { lockedCents } = routes;
  const isLocked = (block: number) => lockedCents !== undefined && lockedCents[block]! > 0;
  const rows: RowDraft[] = Array.from({ length: routes.blockCount }, (_, block) =>
    isLocked(block) ? { lower: 1, upper: 1 } : { upper: 1 },
  );
  const firstClass = rows.length;
  for (const slots of routes.twins) rows.push({ upper: slots.length });
  const rowOfThing = new Map<number, number>();
  const rowsOfCrews = crewRows(routes, pooled, rows);
  const rowsOfNights = nightRows(state, pooled, rows);
  const columns = pooled.map(({ slot, outfit, stops, cents }, column): ColumnDraft => {
    let value = 0;
    const entries: [number, number][] = [
      [firstClass + routes.twin[slot]!, 1],
      ...rowsOfCrews[column]!,
      ...rowsOfNights[column]!,
    ];
    for (const block of stops) {
      value += routes.valueCents[block]! - (lockedCents?.[block] ?? 0);
      entries.push([block, 1]);
    }
    for (const { thing, amount, limit } of state.pool.claims(slot, outfit)) {
      let row = rowOfThing.get(thing);
      if (row === undefined) {
        row = rows.push({ upper: limit }) - 1;
        rowOfThing.set(thing, row);
      }
      entries.push([row, amount]);
    }
    return { cost: cents - value, lower: 0, upper: 1, integer: true, entries };
  });
  const start = Float64Array.from(pooled, (_, column) => (column < pooled.length - ofBest.length ? 0 : 1));
  const outcome = linear.solve(buildModel(rows, columns), { ...limits, gap: 1e-6, start });
  if (outcome.status !== "optimal" && outcome.status !== "feasible") return false;
  const chosen = pooled.filter((_, column) => outcome.values[column]! > 0.5);
  putTogether(state, chosen, run);
  return true;
}

/** Our choice: of so many minutes at which a crew leaves the rest before is looked at. */
const leavesTried = 16;

/** Entries, by column, in rows that are added for what binds the days of a crew together. */
function crewRows(routes: RouteProblem, pooled: readonly PooledRoute[], rows: RowDraft[]): [number, number][][] {
  const entries: [number, number][][] = pooled.map(() => []);
  const columnsOfCrew = new Map<number, number[]>();
  pooled.forEach(({ slot }, column) => {
    const crew = routes.crewOfSlot[slot]!;
    const list = columnsOfCrew.get(crew);
    if (list === undefined) columnsOfCrew.set(crew, [column]);
    else list.push(column);
  });
  for (const columns of columnsOfCrew.values()) {
    const dayOf = (column: number) => routes.dayOfSlot[pooled[column]!.slot]!;
    const days = [...new Set(columns.map(dayOf))].sort((a, b) => a - b);
    for (const day of days) {
      const week = columns.filter((column) => dayOf(column) >= day && dayOf(column) < day + 7);
      const row = rows.push({ upper: routes.weekMaxMin[pooled[week[0]!]!.slot]! }) - 1;
      for (const column of week) entries[column]!.push([row, pooled[column]!.backMin - pooled[column]!.leaveMin]);
      if (day + 7 > days[days.length - 1]!) break;
    }
    for (const day of days) {
      const before = columns.filter((column) => dayOf(column) === day);
      const after = columns.filter((column) => dayOf(column) === day + 1);
      const leaves = [...new Set(after.map((column) => pooled[column]!.leaveMin))].sort((a, b) => a - b);
      const step = Math.max(1, Math.ceil(leaves.length / leavesTried));
      for (let i = 0; i < leaves.length; i += step) {
        const leaveMin = leaves[i]!;
        const late = before.filter((column) => {
          const { slot, backMin } = pooled[column]!;
          return backMin + routes.restMin[slot]! > leaveMin;
        });
        if (late.length === 0) continue;
        const row = rows.push({ upper: 1 }) - 1;
        for (const column of late) entries[column]!.push([row, 1]);
        for (const column of after) if (pooled[column]!.leaveMin <= leaveMin) entries[column]!.push([row, 1]);
      }
    }
  }
  return entries;
}

/** Days beside a night away go together only where they are with the same things at the same place: they are told apart by both. */
function awayMark({ pool, startPlace, endPlace }: State, slot: number, outfit: Outfit): number {
  let mark = Math.imul(startPlace[slot]! + 1, 0x27d4eb2f) ^ Math.imul(endPlace[slot]! + 1, 0x165667b1);
  for (const { thing, amount } of pool.claims(slot, outfit)) mark ^= Math.imul(thing + 1, 0x9e3779b1) + amount;
  return mark;
}

/** Entries, by column, in rows by which a night away is spent by both of its days with the same things, or by neither. */
function nightRows({ routes, pool }: State, pooled: readonly PooledRoute[], rows: RowDraft[]): [number, number][][] {
  const entries: [number, number][][] = pooled.map(() => []);
  for (const { evening, morning } of routes.nights) {
    const groups: { readonly place: number; readonly outfit: Outfit; readonly row: number }[] = [];
    const add = (column: number, place: number, value: 1 | -1) => {
      const { outfit } = pooled[column]!;
      let group = groups.find((one) => one.place === place && pool.isSame(one.outfit, outfit));
      if (group === undefined) {
        group = { place, outfit, row: rows.push({ lower: 0, upper: 0 }) - 1 };
        groups.push(group);
      }
      entries[column]!.push([group.row, value]);
    };
    pooled.forEach(({ slot, startPlace, endPlace }, column) => {
      if (slot === evening && endPlace !== routes.endPlace[slot]) add(column, endPlace, 1);
      if (slot === morning && startPlace !== routes.startPlace[slot]) add(column, startPlace, -1);
    });
  }
  return entries;
}

function routesOf(state: State): PooledRoute[] {
  const { routes, sequence, count, outfit, startPlace, endPlace, slotCents, leaveMin, backMin } = state;
  const found: PooledRoute[] = [];
  for (let slot = 0; slot < routes.slotCount; slot++) {
    const stops = count[slot]!;
    const held = slot * routes.stride;
    if (stops > 0)
      found.push({
        slot,
        outfit: outfit[slot]!,
        startPlace: startPlace[slot]!,
        endPlace: endPlace[slot]!,
        stops: sequence.slice(held, held + stops),
        cents: slotCents[slot]!,
        leaveMin: leaveMin[slot]!,
        backMin: backMin[slot]!,
      });
  }
  return found;
}

function putTogether(state: State, chosen: readonly PooledRoute[], run: DayRun): void {
  const { routes } = state;
  for (let slot = 0; slot < routes.slotCount; slot++) {
    if (state.count[slot]! > 0) clearStops(state, slot);
    if (state.rules !== null) setOutfit(state, slot, null);
  }
  for (const { evening, morning } of routes.nights) {
    state.endPlace[evening] = routes.endPlace[evening]!;
    state.startPlace[morning] = routes.startPlace[morning]!;
  }
  for (const { slot, startPlace, endPlace } of chosen) {
    if (startPlace !== routes.startPlace[slot]) state.startPlace[slot] = startPlace;
    if (endPlace !== routes.endPlace[slot]) state.endPlace[slot] = endPlace;
    touch(state, slot);
  }
  for (const { slot: first, outfit, stops } of chosen) {
    const slot = routes.twins[routes.twin[first]!]!.find((one) => state.count[one] === 0);
    if (slot === undefined) continue;
    if (state.rules !== null) setOutfit(state, slot, outfit);
    for (const block of stops) {
      if (state.slotOf[block]! < 0) insertAt(state, run, slot, block, state.count[slot]!);
    }
  }
}
