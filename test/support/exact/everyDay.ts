import type { Kit, Problem } from "../../../services/solver/problem.ts";
import { everyKit, type SetsRule } from "./everyKit.ts";
import { everyRoute } from "./everyRoute.ts";
import { type Route, standsFor } from "./route.ts";

/** All kits and routes of every slot, as far as an optimum could need them. */
export interface EveryDay {
  readonly kitsOfSlot: readonly (readonly Kit[])[];
  readonly routes: readonly Route[];
  /** Orders of blocks that were walked. */
  readonly walked: number;
}

export function everyDay(problem: Problem, setsRule: SetsRule): EveryDay {
  const kitsOfCrew = problem.crews.map((_, crew) => everyKit(problem, crew, setsRule));
  const kitsOfSlot = problem.slots.map(({ crew, days }) =>
    kitsOfCrew[crew]!.filter(({ aircraft }) => aircraft.every((one) => days.every((day) => !isOut(problem, one, day)))),
  );
  const count = { walked: 0 };
  const routes = kitsOfSlot.flatMap((kits, slot) => {
    const oneOfProfile = new Map(kits.map((kit) => [kit.profile, kit]));
    const found = [...oneOfProfile.values()].flatMap((kit) => everyRoute(problem, slot, kit, count));
    return withoutSpareThings(kits, found);
  });
  assertOneCrewOverAField(problem, routes);
  return { kitsOfSlot, routes, walked: count.walked };
}

/** Routes that lose nothing with fewer sets and chargers are left to the outfit that has fewer of them. */
function withoutSpareThings(kits: readonly Kit[], routes: readonly Route[]): Route[] {
  const ofProfile = groupBy(kits, ({ profile }) => profile);
  const bySet = groupBy(routes, ({ set }) => set);
  const asksLess = (less: number, more: number) =>
    ofProfile
      .get(more)!
      .every((kit) =>
        ofProfile
          .get(less)!
          .some(
            (other) =>
              other.tender === kit.tender &&
              other.sets <= kit.sets &&
              other.aircraft.join() === kit.aircraft.join() &&
              other.chargers.every((charger) => kit.chargers.includes(charger)),
          ),
      );
  const easier = new Map(
    [...ofProfile.keys()].map((profile) => [
      profile,
      new Set([...ofProfile.keys()].filter((other) => other !== profile && asksLess(other, profile))),
    ]),
  );
  return routes.filter(
    (route) =>
      !bySet.get(route.set)!.some((other) => easier.get(route.profile)!.has(other.profile) && standsFor(other, route)),
  );
}

function isOut({ equipment }: Problem, aircraft: number, day: number): boolean {
  return equipment.aircraftOut[day * equipment.aircraftType.length + aircraft] === 1;
}

/** Routes are walked without other crews in the way, so none may have to wait for another over a field. */
function assertOneCrewOverAField(problem: Problem, routes: readonly Route[]): void {
  const slotOfFieldAndDay = new Map<string, number>();
  for (const { slot, run } of routes) {
    for (const block of run.stops) {
      const { field } = problem.blocks[block]!;
      if (problem.blocksOfField[field]!.length === 1) continue;
      const key = `${field} ${problem.slots[slot]!.day}`;
      const other = slotOfFieldAndDay.get(key) ?? slot;
      slotOfFieldAndDay.set(key, slot);
      if (other !== slot) throw new RangeError(`Two crews of one day could be over field ${field}.`);
    }
  }
}

function groupBy<Item>(items: readonly Item[], keyOf: (item: Item) => number): Map<number, Item[]> {
  const groups = new Map<number, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group === undefined) groups.set(keyOf(item), [item]);
    else group.push(item);
  }
  return groups;
}
