import { kitOf } from "../kits.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import type { Column } from "./column.ts";
import type { Relaxation } from "./relaxation.ts";
import { fillMinutes } from "./water.ts";

/** A crew-day that a search has found. */
export interface KnownRoute {
  readonly slot: number;
  readonly type: number;
  readonly count: number;
  readonly tender: number;
  readonly blocks: readonly number[];
}

/** Crew-days of a state of the search. */
export function knownRoutesOf({ slots, routes: { stride } }: Problem, state: State): KnownRoute[] {
  return slots.flatMap((_, slot) => {
    const kit = kitOf(state, slot);
    const count = state.count[slot]!;
    if (kit === null || count === 0) return [];
    const blocks = Array.from(state.sequence.subarray(slot * stride, slot * stride + count));
    return [{ slot, type: kit.option.type, count: kit.option.count, tender: kit.tender, blocks }];
  });
}

/** Such a crew-day as a route of the relaxation, each work begun as early as it can be; null if it is none. What it costs here is what some route costs, not the least. */
export function columnOf(relaxation: Relaxation, route: KnownRoute): Column | null {
  const { outings, outingsOfSlot } = relaxation;
  const outing = outingsOfSlot[route.slot]!.find((index) => {
    const { option, tenders } = outings[index]!;
    return option.type === route.type && option.count === route.count && tenders.includes(route.tender);
  });
  return outing === undefined ? null : routeOf(relaxation, outing, route.blocks);
}

/** Blocks in an order as a route of an outing, each work begun as early as it can be; null if it is none. */
function routeOf(relaxation: Relaxation, outing: number, blocks: readonly number[]): Column | null {
  const { problem, outings, days, moves, stops, roadCents, residues, fillLPerMin } = relaxation;
  const day = days[outing]!;
  const { routes } = problem;
  const { slot } = outings[outing]!;
  const wage = routes.wageCentsPerMin[slot]!;
  let before = -1;
  let readyMin = 0;
  const left = [0, 0];
  let waterL = 0;
  const tenderL = routes.profiles[outings[outing]!.profile]!.capacity;
  let slackMin = Number.POSITIVE_INFINITY;
  let dutyMin = 0;
  let cents = 0;
  for (const block of blocks) {
    let k = -1;
    let moveMin = Number.POSITIVE_INFINITY;
    for (let to = 0; to < day.count; to++) {
      if (day.block[to] !== block) continue;
      const min =
        before < 0 ? day.outMin[to]! : moves[outing]!.minutes[day.stop[before]! * stops.block.length + day.stop[to]!]!;
      if (min < moveMin) {
        moveMin = min;
        k = to;
      }
    }
    if (k < 0) return null;
    // What is left in tank and hopper, and what was filled up on the way.
    const on = day.stop[k]!;
    const gear = residues.gear[on]!;
    if (before >= 0) {
      const filledMin = fillMinutes(waterL, tenderL, fillLPerMin);
      moveMin += residues.cleanMin[left[gear]! * stops.block.length + on]!;
      moveMin += fillMinutes(waterL + day.waterL[k]!, tenderL, fillLPerMin) - filledMin;
    }
    left[gear] = residues.after[left[gear]! * stops.block.length + on]!;
    waterL += day.waterL[k]!;
    cents += before < 0 ? day.outCents[k]! : roadCents[day.stop[before]! * stops.block.length + day.stop[k]!]!;
    readyMin += moveMin;
    const endOf = (way: number) => Math.max(readyMin, day.openMin[way]!) + day.lengthMin[way]!;
    let way = -1;
    for (let one = day.firstWay[k]!; one < day.firstWay[k + 1]!; one++) {
      if (readyMin <= day.lastMin[one]! && (way < 0 || endOf(one) < endOf(way))) way = one;
    }
    if (way < 0) return null;
    const startMin = Math.max(readyMin, day.openMin[way]!);
    const leftMin = slackMin - (startMin - readyMin);
    dutyMin += moveMin + day.lengthMin[way]! + Math.max(0, -leftMin);
    slackMin = Math.max(0, Math.min(leftMin, day.lastMin[way]! - startMin));
    readyMin = startMin + day.lengthMin[way]!;
    cents += day.wayCents[way]!;
    before = k;
  }
  if (before < 0 || readyMin + day.homeMin[before]! >= day.span) return null;
  dutyMin += day.homeMin[before]!;
  if (dutyMin > routes.dutyMaxMin[slot]!) return null;
  const overMin = Math.max(0, dutyMin - routes.standardMin[slot]!);
  cents += day.homeCents[before]! + dutyMin * wage + overMin * routes.overtimeCentsPerMin[slot]!;
  return { outing, blocks, cents, dutyMin };
}

/**
 * Routes like those of a plan: with one block less, one more, or one for another. With the plan alone the prices of its blocks could be anything that adds up; these hold each
 * near what the block costs.
 */
export function routesLike(relaxation: Relaxation, { outing, blocks }: Column): Column[] {
  const found: Column[] = [];
  const keep = (route: Column | null) => {
    if (route !== null) found.push(route);
  };
  for (let at = 0; at < blocks.length; at++) {
    if (blocks.length > 1) keep(routeOf(relaxation, outing, blocks.toSpliced(at, 1)));
  }
  for (const block of new Set(relaxation.days[outing]!.block)) {
    if (blocks.includes(block)) continue;
    let best: Column | null = null;
    for (let at = 0; at <= blocks.length; at++) {
      const route = routeOf(relaxation, outing, blocks.toSpliced(at, 0, block));
      if (route !== null && (best === null || route.cents < best.cents)) best = route;
    }
    keep(best);
    if (best !== null) continue;
    for (let at = 0; at < blocks.length; at++) keep(routeOf(relaxation, outing, blocks.toSpliced(at, 1, block)));
  }
  return found;
}
