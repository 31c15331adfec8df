import { dateWords } from "../../../shared/model/dateWords.ts";
import type { DayMap } from "../../../shared/plan/dayMap.ts";
import type { WeekMap } from "../../../shared/plan/weekMap.ts";
import { type PaperSource, sourceWords } from "../page/source.ts";
import { dayFeatures, type MapDocument, weekFeatures } from "./features.ts";
import { geojsonText } from "./geojson.ts";
import { gpxText } from "./gpx.ts";
import { kmlText } from "./kml.ts";

/** The formats in which what is on a map goes to other programs. */
export const mapFormats = {
  geojson: { mediaType: "application/geo+json", write: geojsonText },
  kml: { mediaType: "application/vnd.google-earth.kml+xml", write: kmlText },
  gpx: { mediaType: "application/gpx+xml", write: gpxText },
} as const;
export type MapFormat = keyof typeof mapFormats;
export const mapFormatNames = Object.keys(mapFormats) as MapFormat[];

export function dayMapDocument(map: DayMap, crewName: string, source: PaperSource): MapDocument {
  return { name: `${crewName}, ${dateWords(map.date)}`, words: sourceWords(source), features: dayFeatures(map) };
}

export function weekMapDocument(map: WeekMap, operationName: string, source: PaperSource): MapDocument {
  return { name: operationName, words: sourceWords(source), features: weekFeatures(map) };
}
