import type { MapDocument } from "./features.ts";

/** RFC 7946. Facts keep their names; `kind` says what a feature is. */
export function geojsonText({ name, words, features }: MapDocument): string {
  return JSON.stringify({
    type: "FeatureCollection",
    name,
    description: words,
    features: features.map(({ id, kind, name: featureName, words: featureWords, geometry, facts }) => ({
      type: "Feature",
      id,
      // A sensitive place and a hazard have a kind of their own, told as placeKind.
      properties: {
        ...("kind" in facts ? { placeKind: facts.kind } : {}),
        ...facts,
        kind,
        name: featureName,
        description: featureWords,
      },
      geometry,
    })),
  });
}
