import { metricMeasures } from "./measures.ts";
import type { Outfit } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { groupBy, sumOf, type Work } from "./totals.ts";
import { counted, readable } from "./words.ts";

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

interface Kind {
  readonly words: string;
  readonly ids: readonly string[];
}

function kindsOf(index: PlanIndex, aircraftIds: readonly string[]): Kind[] {
  const idsByType = groupBy(aircraftIds, (id) => index.aircraft(id).typeId);
  return [...idsByType].map(([typeId, ids]) => ({ words: `${ids.length} × ${index.type(typeId).name}`, ids }));
}

function withIds({ words, ids }: Kind): string {
  return `${words} (${ids.join(", ")})`;
}

/** The aircraft that a work names; nothing where all of the outfit works. */
export function aircraftWords(index: PlanIndex, { aircraftIds = [] }: Work): string {
  return kindsOf(index, aircraftIds).map(withIds).join(", ");
}

export function outfitWords(index: PlanIndex, outfit: Outfit, measures = metricMeasures): OutfitWords {
  const kinds = kindsOf(index, outfit.aircraftIds);
  const batteries = outfit.batterySets.map(
    ({ aircraftTypeId, bays, sets }) =>
      `${counted(sets, "battery set", "battery sets")} for ${index.type(aircraftTypeId).name}${bays === undefined ? "" : `, ${counted(bays, "bay", "bays")}`}`,
  );
  const chargers = outfit.chargerIds.map((id) => {
    const { bays, kw } = index.charger(id);
    return `${id} (${counted(bays, "bay", "bays")}, ${readable(kw)} kW)`;
  });
  const { name, waterL } = index.tender(outfit.tenderId);
  const aircraft = kinds.map(withIds);
  const sets = sumOf(outfit.batterySets, (stock) => stock.sets);
  const power = [
    ...(sets > 0 ? [counted(sets, "battery set", "battery sets")] : []),
    ...(chargers.length > 0 ? [counted(chargers.length, "charger", "chargers")] : []),
  ];
  const tenderWords = name.toLowerCase().startsWith("tender") ? name : `tender ${name}`;
  return {
    aircraft,
    batteries,
    chargers,
    tender: `${name} (${measures.bulk(waterL, "L")} water)`,
    line: [...aircraft, ...power, tenderWords].join(", "),
    short: [...kinds.map(({ words }) => words), tenderWords].join(", "),
  };
}
