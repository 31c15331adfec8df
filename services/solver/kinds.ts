import type { Operation } from "../../shared/model/operation.ts";
import type { Kind, KindTaken, Kit, Problem, Taken } from "./problem.ts";
import { windowOverlap } from "./windowOverlap.ts";

/** All kinds of aircraft in a kit, the first one first. */
export function kindsOf(kit: Kind & { readonly also?: readonly Kind[] }): readonly Kind[] {
  return kit.also === undefined ? [kit] : [kit, ...kit.also];
}

export function takenOf(kit: Kit): Taken {
  return { ...kit, kinds: kindsOf(kit) };
}

/** The kind of a kit that works a block. */
export function kindFor(problem: Problem, kit: Kit, block: number): Kind {
  if (kit.also === undefined) return kit;
  const kind = problem.kindOf(kit.profile, block);
  return kind === 0 ? kit : kit.also[kind - 1]!;
}

/** Whether an outfit can do a block at all; of several kinds, one that the crew's people may fly there. */
export function canWork(problem: Problem, kit: Kit, block: number): boolean {
  return problem.work.minutes(block, kindFor(problem, kit, block).signature) > 0;
}

/**
 * The kind that works a block on a slot's day: of those whose windows in the shift are long enough, or else of all, the one that takes the fewest minutes from full
 * batteries, of two alike the cheaper at work. Our choice: one kind for a block whenever it comes in the day, so that its minutes do not depend on what is before it.
 * `minutes` are by kind, 0 where it cannot; -1 when none can.
 */
export function quickestKind(
  problem: Parameters<typeof windowOverlap>[0],
  kinds: readonly Kind[],
  minutes: readonly number[],
  ground: number,
  slot: number,
): number {
  const able = kinds.map((_, kind) => kind).filter((kind) => minutes[kind]! > 0);
  const open = able.filter((kind) => windowOverlap(problem, ground, kinds[kind]!.option.type, slot) >= minutes[kind]!);
  let best = -1;
  for (const kind of open.length > 0 ? open : able) {
    const lessMin = best < 0 ? 1 : minutes[best]! - minutes[kind]!;
    if (lessMin > 0 || (lessMin === 0 && runningCentsPerHour(kinds[kind]!) < runningCentsPerHour(kinds[best]!))) {
      best = kind;
    }
  }
  return best;

  function runningCentsPerHour({ option }: Kind): number {
    return option.count * problem.types[option.type]!.runningCentsPerHour;
  }
}

/**
 * Charging bays of several kinds at once, by kind and charger: a bay is of one kind all day, and all bays together are within the power of each charger and of the
 * generator. One after the other, the kind with the fewest for its aircraft gets one more, on the charger with the least power that will do. Our choice: so the sets of
 * a kind are charged while another works, and one kind's day does not depend on the other's. Null when a kind on batteries gets none.
 */
export function shareBays(
  { fleet }: Operation,
  kinds: readonly KindTaken[],
  chargers: readonly number[],
  tender: number,
): number[][] | null {
  const bays = kinds.map(() => chargers.map(() => 0));
  const left = chargers.map((charger) => ({ ...fleet.chargers[charger]! }));
  let generatorKw = fleet.tenders[tender]!.generatorKw;
  const powers = kinds.map(({ option }) => fleet.aircraftTypes[option.type]!.power);
  const held = kinds.map(() => 0);
  let growing = kinds.map((_, kind) => kind).filter((kind) => powers[kind]!.source === "battery");
  while (growing.length > 0) {
    const kind = growing.reduce((least, one) => (share(one) < share(least) ? one : least));
    const power = powers[kind]!;
    const kw = power.source === "battery" ? power.chargeKw : 0;
    let at = -1;
    if (kw <= generatorKw && held[kind]! < kinds[kind]!.sets) {
      left.forEach((charger, one) => {
        if (charger.bays > 0 && charger.kw >= kw && (at < 0 || charger.kw < left[at]!.kw)) at = one;
      });
    }
    if (at < 0) {
      growing = growing.filter((one) => one !== kind);
      continue;
    }
    left[at]!.bays--;
    left[at]!.kw -= kw;
    generatorKw -= kw;
    held[kind] = held[kind]! + 1;
    bays[kind]![at]!++;
  }
  return held.every((count, kind) => count > 0 || powers[kind]!.source === "fuel") ? bays : null;

  function share(kind: number): number {
    return held[kind]! / kinds[kind]!.option.count;
  }
}
