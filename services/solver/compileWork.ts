import type { Gear } from "../../shared/fieldwork/flow.ts";
import { flyingRules } from "../../shared/fieldwork/flyingRules.ts";
import { type Ground, prepareGround } from "../../shared/fieldwork/ground.ts";
import { motionOf, type OutfitInput, workingBays } from "../../shared/fieldwork/workTime.ts";
import type { AreaXY, PointXY } from "../../shared/geo/plane.ts";
import type { AircraftType } from "../../shared/model/fleet.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Equipment, KitOption, Problem, ProblemOrder, Signature, Signatures, Things } from "./problem.ts";

export function createSignatures(operation: Operation): Signatures {
  const { fleet } = operation;
  const list: Signature[] = [];
  const indexOf = new Map<string, number>();
  const firstAlike = new Map<string, number>();
  return {
    of: ({ option, sets, chargers, tender }, baysOf) => {
      const key = [option.type, option.count, sets, tender, ...chargers, "bays", ...(baysOf ?? [])].join(" ");
      const known = indexOf.get(key);
      if (known !== undefined) return known;
      const type = fleet.aircraftTypes[option.type]!;
      const taken = chargers.map((charger, at) => {
        const all = fleet.chargers[charger]!;
        return baysOf === undefined ? all : { ...all, bays: baysOf[at]! };
      });
      const { power } = type;
      const { generatorKw, mixLPerMin, pumpLPerMin, loadingPoints } = fleet.tenders[tender]!;
      const bays = power.source === "battery" ? workingBays(taken, generatorKw, power.chargeKw) : 0;
      const alike = [option.type, option.count, sets, bays, mixLPerMin, pumpLPerMin, loadingPoints].join(" ");
      const alikeIndex = firstAlike.get(alike) ?? list.length;
      firstAlike.set(alike, alikeIndex);
      const signature: Signature = {
        option,
        alike: alikeIndex,
        type,
        sets,
        chargers: taken,
        tender: fleet.tenders[tender]!,
        charge: power.source === "battery" ? { bays, chargeMin: power.chargeMin } : null,
      };
      indexOf.set(key, list.length);
      return list.push(signature) - 1;
    },
    at: (signature) => list[signature]!,
  };
}

/** Ground to be worked, and the order it belongs to. */
export interface WorkGround {
  readonly area: AreaXY;
  readonly order: ProblemOrder;
  readonly padPlaces: readonly number[];
}

/** An order's ground as a type flies it with one of its gears. */
export function groundOf(
  operation: Operation,
  { area, order }: Pick<WorkGround, "area" | "order">,
  type: AircraftType,
  gear: Gear,
): Ground {
  const field = operation.fields.features[order.field]!.properties;
  const rules = flyingRules(operation.settings, field, order.order);
  return prepareGround(area, padsOf(operation, order), motionOf(type, gear), rules);
}

/** Pads of the order's field in its plane. */
export function padsOf(operation: Operation, { field, plane }: Pick<ProblemOrder, "field" | "plane">): PointXY[] {
  const { pads } = operation.fields.features[field]!.properties;
  return pads.map(({ lonDeg, latDeg }) => plane.toXY([lonDeg, latDeg]));
}

/** Grounds ready to be worked. */
export type Grounds = (ground: Pick<WorkGround, "area" | "order">, type: AircraftType, gear: Gear) => Ground;

/** Each is prepared once: an order that is not cut is one block, and orders on one field often share their area. */
export function createGrounds(operation: Operation): Grounds {
  const prepared = new WeakMap<AreaXY, Map<string, Ground>>();
  return (ground, type, gear) => {
    // An area is of one field, which has one slope and its pads.
    const key = `${type.id} ${ground.order.liquid} ${ground.order.order.headingDeg}`;
    const known = prepared.get(ground.area) ?? new Map<string, Ground>();
    prepared.set(ground.area, known);
    const found = known.get(key) ?? groundOf(operation, ground, type, gear);
    known.set(key, found);
    return found;
  };
}

export function outfitInput({ type, option, sets, chargers, tender }: Signature, order: ProblemOrder): OutfitInput {
  return {
    method: order.liquid ? "liquid" : "granular",
    ratePerHa: order.ratePerHa,
    densityKgPerL: order.densityKgPerL,
    type,
    aircraftCount: option.count,
    batterySets: sets,
    chargers,
    tender,
  };
}

/** Signatures of the best that each base could send out with an option, one for every tender that carries it: nothing that the pools hold beats them. */
export function bestSignaturesOf(
  operation: Operation,
  equipment: Equipment,
  signatures: Signatures,
  base: number,
  option: KitOption,
): number[] {
  const type = operation.fleet.aircraftTypes[option.type]!;
  const sets =
    type.power.source === "battery" ? equipment.stock[base * operation.fleet.aircraftTypes.length + option.type]! : 0;
  if (type.power.source === "battery" && sets < option.count) return [];
  const chargers =
    type.power.source === "battery"
      ? operation.fleet.chargers.map((_, index) => index).filter((index) => equipment.chargerBase[index] === base)
      : [];
  return operation.fleet.tenders
    .map((_, tender) => tender)
    .filter(
      (tender) =>
        equipment.tenderBase[tender] === base && equipment.tenderSlots[tender]! >= option.count * type.transportSlots,
    )
    .map((tender) => {
      const kit: Things = { option, aircraft: [], sets, chargers, tender };
      return signatures.of(kit);
    });
}

/** One of the best signatures of a type, of the first crew that may fly it and whose base has what goes with it. */
export function someSignatureOf(problem: Problem, type: number): number | undefined {
  for (const [crew, options] of problem.options.entries()) {
    const option = options.filter((candidate) => candidate.type === type).at(-1);
    if (option === undefined) continue;
    const base = problem.baseOfCrew[crew]!;
    const [first] = bestSignaturesOf(problem.operation, problem.equipment, problem.signatures, base, option);
    if (first !== undefined) return first;
  }
  return undefined;
}
