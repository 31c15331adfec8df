import type { Method } from "../model/quantities.ts";
import type { ConflictKind, Outfit } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { sumOf } from "./totals.ts";

export function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** As many decimals as a person on site can use: 1234, 87.5, 3.25, 0.125. */
export function readable(value: number): string {
  const decimals = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  const fixed = value.toFixed(decimals);
  return fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
}

export function hoursAndMinutes(minutes: number): string {
  return `${Math.floor(minutes / 60)} h ${String(Math.round(minutes % 60)).padStart(2, "0")} min`;
}

/** 123456 cents as 1234.56; thousands are left unparted, so that a table lines up and reads in any language. */
export function moneyWords(cents: number): string {
  return (cents / 100).toFixed(2);
}

export const methodVerb: Record<Method, string> = { liquid: "Spray", granular: "Spread" };
export const amountUnit: Record<Method, "L" | "kg"> = { liquid: "L", granular: "kg" };

export const conflictWords: Record<ConflictKind, string> = {
  noCapableAircraft: "no aircraft can do it",
  noQualifiedCrew: "no crew is qualified",
  labelForbids: "the label forbids it",
  bufferLeavesNothing: "buffers leave no ground",
  seasonMaximum: "seasonal maximum reached",
  retreatment: "too soon after the last treatment",
  harvestTooSoon: "harvest comes too soon",
  entryTooSoon: "people enter too soon",
  fieldClosed: "the field is closed",
  contradiction: "the order contradicts itself",
  noWindow: "no window in the weather",
  windowTooShort: "windows are too short",
  equipmentShort: "equipment is short",
  notEnoughHours: "not enough crew hours",
};

export interface OutfitWords {
  /** One line for each kind of aircraft: `2 × Heron 30 (A-1, A-2)`. */
  readonly aircraft: readonly string[];
  readonly batteries: readonly string[];
  readonly chargers: readonly string[];
  readonly tender: string;
  /** All of it in one line. */
  readonly line: string;
  /** The least that tells outfits apart: `2 × Heron 30, tender Blue`. */
  readonly short: string;
}

export function outfitWords(index: PlanIndex, outfit: Outfit): OutfitWords {
  const idsByType = new Map<string, string[]>();
  for (const id of outfit.aircraftIds) {
    const typeId = index.aircraft(id).typeId;
    idsByType.set(typeId, [...(idsByType.get(typeId) ?? []), id]);
  }
  const kinds = [...idsByType].map(([typeId, ids]) => ({ words: `${ids.length} × ${index.type(typeId).name}`, ids }));
  const batteries = outfit.batterySets.map(
    ({ aircraftTypeId, sets }) =>
      `${counted(sets, "battery set", "battery sets")} for ${index.type(aircraftTypeId).name}`,
  );
  const chargers = outfit.chargerIds.map((id) => {
    const { bays, kw } = index.charger(id);
    return `${id} (${counted(bays, "bay", "bays")}, ${readable(kw)} kW)`;
  });
  const { name, waterL } = index.tender(outfit.tenderId);
  const aircraft = kinds.map(({ words, ids }) => `${words} (${ids.join(", ")})`);
  const sets = sumOf(outfit.batterySets, (stock) => stock.sets);
  const power = [
    ...(sets > 0 ? [counted(sets, "battery set", "battery sets")] : []),
    ...(chargers.length > 0 ? [counted(chargers.length, "charger", "chargers")] : []),
  ];
  return {
    aircraft,
    batteries,
    chargers,
    tender: `${name} (${readable(waterL)} L water)`,
    line: [...aircraft, ...power, `tender ${name}`].join(", "),
    short: [...kinds.map(({ words }) => words), `tender ${name}`].join(", "),
  };
}

const compassPoints = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
] as const;

export function compassWords(bearingDeg: number): string {
  const eighth = Math.round(bearingDeg / 45) % compassPoints.length;
  return compassPoints[eighth]!;
}
