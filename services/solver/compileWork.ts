import { type Gear, gearOf } from "../../shared/fieldwork/flow.ts";
import { flyingRules } from "../../shared/fieldwork/flyingRules.ts";
import { type Ground, prepareGround } from "../../shared/fieldwork/ground.ts";
import { motionOf, type WorkOutcome, workingBays, workTimeOn } from "../../shared/fieldwork/workTime.ts";
import type { AreaXY, PointXY } from "../../shared/geo/plane.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Equipment, Kit, KitOption, Problem, ProblemOrder, Signature, Signatures, WorkTable } from "./problem.ts";

export function createSignatures(operation: Operation): Signatures {
  const { fleet } = operation;
  const list: Signature[] = [];
  const indexOf = new Map<string, number>();
  return {
    of: ({ option, sets, chargers, tender }) => {
      const key = [option.type, option.count, sets, tender, ...chargers].join(" ");
      const known = indexOf.get(key);
      if (known !== undefined) return known;
      const type = fleet.aircraftTypes[option.type]!;
      const taken = chargers.map((charger) => fleet.chargers[charger]!);
      const { power } = type;
      const { generatorKw } = fleet.tenders[tender]!;
      const signature: Signature = {
        option,
        type,
        sets,
        chargers: taken,
        tender: fleet.tenders[tender]!,
        charge:
          power.source === "battery"
            ? { bays: workingBays(taken, generatorKw, power.chargeKw), chargeMin: power.chargeMin }
            : null,
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

/** Minutes are worked out once for each ground and signature, when first asked for. */
export function createWorkTable(
  operation: Operation,
  signatures: Signatures,
  grounds: readonly WorkGround[],
): WorkTable {
  const prepared: (Ground | undefined)[] = [];
  /** By signature, then ground: minutes are -1 while unknown. */
  const minutesOf: Int32Array[] = [];
  const placeOf: Int32Array[] = [];
  const setsUsedOf: Float64Array[] = [];

  const groundOf = (index: number, { type, option }: Signature, gear: Gear): Ground => {
    const at = index * operation.fleet.aircraftTypes.length + option.type;
    const { area, order } = grounds[index]!;
    prepared[at] ??= prepareGround(
      area,
      padsOf(operation, order),
      motionOf(type, gear),
      flyingRules(operation, order.order),
    );
    return prepared[at];
  };
  const outcome = (index: number, signature: number): WorkOutcome => {
    const kit = signatures.at(signature);
    const { order } = grounds[index]!;
    const method = order.liquid ? "liquid" : "granular";
    const gear = gearOf(kit.type, method, order.densityKgPerL);
    if (gear === undefined) return { ok: false, limit: "method", actual: method, allowed: [] };
    return workTimeOn(groundOf(index, kit, gear), {
      method,
      ratePerHa: order.ratePerHa,
      densityKgPerL: order.densityKgPerL,
      type: kit.type,
      aircraftCount: kit.option.count,
      batterySets: kit.sets,
      chargers: kit.chargers,
      tender: kit.tender,
    });
  };
  const know = (index: number, signature: number): void => {
    if (minutesOf[signature] === undefined) {
      minutesOf[signature] = new Int32Array(grounds.length).fill(-1);
      placeOf[signature] = new Int32Array(grounds.length);
      setsUsedOf[signature] = new Float64Array(grounds.length);
    }
    if (minutesOf[signature]![index]! >= 0) return;
    const found = outcome(index, signature);
    minutesOf[signature]![index] = found.ok ? found.minutes : 0;
    if (!found.ok) return;
    const { power } = signatures.at(signature).type;
    const { sprayMin, turnMin, ferryMin } = found.detail;
    placeOf[signature]![index] = grounds[index]!.padPlaces[found.padIndex]!;
    setsUsedOf[signature]![index] = (sprayMin + turnMin + ferryMin) / (power.enduranceMin * (1 - power.reserveFrac));
  };

  return {
    minutes: (index, signature) => {
      know(index, signature);
      return minutesOf[signature]![index]!;
    },
    place: (index, signature) => placeOf[signature]![index]!,
    setsUsed: (index, signature) => setsUsedOf[signature]![index]!,
    outcome,
  };
}

function padsOf(operation: Operation, order: ProblemOrder): PointXY[] {
  const { pads } = operation.fields.features[order.field]!.properties;
  return pads.map(({ lonDeg, latDeg }) => order.plane.toXY([lonDeg, latDeg]));
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
      const kit: Omit<Kit, "signature" | "optionIndex"> = { option, aircraft: [], sets, chargers, tender };
      return signatures.of(kit);
    });
}

/** Best signatures of a type over all crews that may fly it. */
export function bestSignatures(problem: Problem, type: number): number[] {
  const found = new Set<number>();
  problem.options.forEach((options, crew) => {
    const option = options.filter((candidate) => candidate.type === type).at(-1);
    if (option === undefined) return;
    const base = problem.baseOfCrew[crew]!;
    for (const signature of bestSignaturesOf(problem.operation, problem.equipment, problem.signatures, base, option)) {
      found.add(signature);
    }
  });
  return [...found];
}
