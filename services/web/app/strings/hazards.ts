import type { HazardKind } from "../../../../shared/model/quantities.ts";
import { hazardCaution, hazardKindWords, hazardName, hazardPlace } from "../../../../shared/plan/hazardWords.ts";

/** Words of hazards on screens: those of the papers, so that a crew reads the same on both. */
export const hazardWords = {
  title: "Hazards",
  caution: hazardCaution,
  name: hazardName,
  place: hazardPlace,
  /** On a map. */
  sign: (name: string, note: string) => (note === "" ? name : `${name}: ${note}`),
  list: (count: number) => `Hazards (${count})`,
  keyLine: "Wire or other hazard along a line",
  keyWords: Object.fromEntries(
    Object.entries(hazardKindWords).map(([kind, words]) => [`hazard ${kind}`, `Hazard: ${words}`]),
  ) as Record<`hazard ${HazardKind}`, string>,
  places: "Where it is",
  placesHint:
    "Latitude, longitude; of a wire one pole after the other with a semicolon between: 41.7402, -0.4210; 41.7410, -0.4188",
} as const;
