import { insertAt } from "../../services/solver/insertion.ts";
import { startAtEnd } from "../../services/solver/outside/putTours.ts";
import { kitFor } from "../../services/solver/outside/takeOut.ts";
import type { Problem, Things } from "../../services/solver/problem.ts";
import type { State } from "../../services/solver/routes.ts";
import { createDayRun, createState, setOutfit } from "../../services/solver/state.ts";

/**
 * How a week is planned by hand (MEMORY, common practice, no source): orders by their preferred date or, without one, by their first window; each goes, on the first day on which that
 * runs, to the nearest crew that can do it with its usual outfit, at the end of its day. Nothing is moved again.
 */
export function dispatchByHand(problem: Problem): State {
  const { routes, slots, calendar } = problem;
  const state = createState(routes);
  const run = createDayRun(routes.stride);
  const usual = usualOutfits(problem);
  const keys = problem.blocks.map((block, at) => {
    const { preferredDate } = problem.orders[block.order]!.order;
    return preferredDate === undefined ? routes.firstMin[at]! : calendar.minOfDate(preferredDate);
  });
  const inTurn = problem.blocks.map((_, at) => at).sort((a, b) => keys[a]! - keys[b]! || a - b);
  const lastPlace = (slot: number) => {
    const count = state.count[slot]!;
    return count === 0 ? routes.startPlace[slot]! : state.placeAt[slot * routes.stride + count - 1]!;
  };
  for (const block of inTurn) {
    const pad = problem.places.indexOf(padOf(problem, block));
    const inReach = routes.slotsOfBlock[block]!.toSorted(
      (a, b) =>
        slots[a]!.day - slots[b]!.day ||
        routes.travelKm[lastPlace(a) * routes.placeCount + pad]! -
          routes.travelKm[lastPlace(b) * routes.placeCount + pad]!,
    );
    for (const slot of inReach) {
      const wasIdle = state.outfit[slot] === null;
      if (wasIdle) {
        const things = inServiceOn(problem, slot, usual[slots[slot]!.crew]);
        const kit = things === undefined ? "none" : kitFor(problem, state, slot, { ...things, kinds: [things] });
        if (typeof kit === "string") continue;
        setOutfit(state, slot, kit);
      }
      const runs = startAtEnd(problem, state, slot, block, run) !== null;
      if (runs && insertAt(state, run, slot, block, state.count[slot]!)) break;
      if (wasIdle) setOutfit(state, slot, null);
    }
  }
  return state;
}

function padOf({ operation, blocks }: Problem, block: number): string {
  const { id, pads } = operation.fields.features[blocks[block]!.field]!.properties;
  return `${id}/${pads[0]!.id}`;
}

/** Without the aircraft that are out of service; undefined when none is left. */
function inServiceOn({ equipment, slots }: Problem, slot: number, usual: Things | undefined): Things | undefined {
  if (usual === undefined) return undefined;
  const all = equipment.aircraftType.length;
  const aircraft = usual.aircraft.filter((one) =>
    slots[slot]!.days.every((day) => equipment.aircraftOut[day * all + one] === 0),
  );
  return aircraft.length === 0
    ? undefined
    : { ...usual, aircraft, option: { ...usual.option, count: aircraft.length } };
}

/** For each crew the outfit that could do most of the ordered hectares, of things that no other crew has for its own as far as there are; undefined when its base has none. */
function usualOutfits(problem: Problem): (Things | undefined)[] {
  const usual: (Things | undefined)[] = [];
  for (const crew of problem.crews.keys()) {
    const offers = offersOf(problem, crew, usual);
    usual.push(offers.toSorted((a, b) => a.shared - b.shared || b.areaHa - a.areaHa || b.count - a.count)[0]?.things);
  }
  return usual;
}

interface Offer {
  readonly things: Things;
  readonly count: number;
  /** Things in it that are another crew's usual ones. */
  readonly shared: number;
  readonly areaHa: number;
}

function offersOf(problem: Problem, crew: number, others: readonly (Things | undefined)[]): Offer[] {
  const { equipment, types, operation, baseOfCrew } = problem;
  const base = baseOfCrew[crew]!;
  const crewsThere = baseOfCrew.filter((other) => other === base).length;
  const takers = (has: (things: Things) => boolean) =>
    others.filter((other) => other !== undefined && has(other)).length;
  const ofBase = (bases: Int32Array, uses: (one: number) => number) =>
    [...bases.keys()].filter((one) => bases[one] === base).sort((a, b) => uses(a) - uses(b) || a - b);
  const tenderUses = (one: number) => takers(({ tender }) => tender === one);
  const aircraftUses = (one: number) => takers(({ aircraft }) => aircraft.includes(one));
  const chargersThere = ofBase(equipment.chargerBase, (one) => takers(({ chargers }) => chargers.includes(one)));
  return problem.options[crew]!.flatMap((option) =>
    ofBase(equipment.tenderBase, tenderUses).flatMap((tender) => {
      const type = types[option.type]!;
      if (equipment.tenderSlots[tender]! < option.count * type.transportSlots) return [];
      const isBattery = type.power.source === "battery";
      const fairChargers = Math.max(1, Math.floor(chargersThere.length / crewsThere));
      const aircraft = ofBase(equipment.aircraftBase, aircraftUses)
        .filter((one) => equipment.aircraftType[one] === option.type)
        .slice(0, option.count);
      const things: Things = {
        option,
        aircraft,
        sets: isBattery ? equipment.setsPerAircraft[base * types.length + option.type]! * option.count : 0,
        chargers: isBattery ? chargersThere.slice(0, fairChargers) : [],
        tender,
      };
      const uses = [tenderUses(tender), ...aircraft.map(aircraftUses)];
      const areaHa = workableHa(problem, crew, things);
      return areaHa === 0 || operation.fleet.crews[crew]!.shifts.length === 0
        ? []
        : [{ things, count: option.count, shared: uses.reduce((sum, one) => sum + one, 0), areaHa }];
    }),
  );
}

function workableHa(problem: Problem, crew: number, things: Things): number {
  const { options, qualified, licences, types, windows, equipment } = problem;
  const optionIndex = options[crew]!.indexOf(things.option as (typeof options)[number][number]);
  const signature = problem.signatures.of(things);
  return problem.blocks.reduce((sum, { order, ground, areaHa, waterL }, block) => {
    const may = qualified[crew]![optionIndex * licences + problem.orders[order]!.licence] === 1;
    const isOpen = (windows[(ground * types.length + things.option.type) * 2] ?? null) !== null;
    const fits = waterL <= equipment.tenderWaterL[things.tender]!;
    return may && isOpen && fits && problem.work.minutes(block, signature) > 0 ? sum + areaHa : sum;
  }, 0);
}
