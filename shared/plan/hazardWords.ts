import { shortDateWords } from "../model/dateWords.ts";
import type { HazardKind } from "../model/quantities.ts";
import type { HazardNear } from "./hazards.ts";
import { type Measures, metricMeasures } from "./measures.ts";

export const hazardKindWords: Readonly<Record<HazardKind, string>> = {
  wire: "wire",
  mast: "mast",
  turbine: "wind turbine",
  tree: "tree",
  building: "building",
  other: "obstacle",
};

interface Told {
  readonly hazards: readonly HazardNear[];
  /** The day on which somebody last looked; null: nobody is known to have. */
  readonly hazardsSurveyed: string | null;
}

/**
 * What is on file never takes the place of looking: the remote pilot assesses the operating environment, ground hazards among it, before flight (14 CFR 107.49(a)(4)), and checks for
 * obstacles (EASA, FAQ 119233, on responsibilities in the specific category of Regulation (EU) 2019/947).
 */
export function hazardCaution({ hazards, hazardsSurveyed }: Told, date: string): string {
  const day = hazardsSurveyed === null ? null : shortDateWords(hazardsSurveyed, date);
  if (day === null) {
    return hazards.length === 0
      ? "No hazards on file: survey on site before flying."
      : "No date of a survey on file: survey on site before flying.";
  }
  return hazards.length === 0
    ? `None found on ${day}. Look again before flying.`
    : `Last surveyed on ${day}. Look again before flying.`;
}

/** `Wire, 11 m high`. A height is never rounded to less. */
export function hazardName(
  { heightM, kind }: Pick<HazardNear, "heightM" | "kind">,
  measures: Pick<Measures, "keep"> = metricMeasures,
): string {
  const words = hazardKindWords[kind];
  const called = `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
  return `${called}, ${heightM === null ? "height not known" : `${measures.keep(heightM)} high`}`;
}

/** `over the field, 140 m north-east of the pad`. */
export function hazardPlace(hazard: HazardNear, measures: Pick<Measures, "length"> = metricMeasures): string {
  const { bearingDeg, direction, fieldDistanceM, isLine, padDistanceM } = hazard;
  const within = isLine ? "over the field" : "in the field";
  const field = fieldDistanceM === 0 ? within : `${measures.length(fieldDistanceM)} from the field`;
  const pad = bearingDeg === null ? "at the pad" : `${measures.length(padDistanceM)} ${direction} of the pad`;
  return `${field}, ${pad}`;
}

export const hazardHeads = ["hazard", "where", "note"] as const;

export function hazardRows({ hazards }: Pick<Told, "hazards">, measures = metricMeasures) {
  return hazards.map((one) => [hazardName(one, measures), hazardPlace(one, measures), one.note] as const);
}
