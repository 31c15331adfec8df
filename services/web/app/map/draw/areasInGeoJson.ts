import type { LonLat } from "../../../../../shared/geo/plane.ts";
import { type Path, pathText } from "../../../../../shared/model/faults.ts";
import { coordinateSystemFaults } from "../../../../../shared/model/geometryFaults.ts";
import { drawWords } from "../../strings/draw.ts";
import { type AreaInFile, type AreasInFile, areaOf, isPosition } from "./areasInFile.ts";

/** Polygons of a GeoJSON document (RFC 7946): of features, collections, or bare. Heights are left out, other geometries passed over. */
export function areasInGeoJson(document: unknown): AreasInFile {
  const [system] = coordinateSystemFaults({ fields: document });
  if (system) return { ok: false, words: drawWords.fileFaults.system(String(system.value)) };
  const areas: AreaInFile[] = [];
  const fault = collect(document, [], null, areas);
  if (fault !== null) return { ok: false, words: drawWords.fileFaults.place(pathText(fault)) };
  return areas.length === 0 ? { ok: false, words: drawWords.fileFaults.noArea } : { ok: true, areas };
}

/** The place of the first fault, or null. */
function collect(value: unknown, path: Path, name: string | null, areas: AreaInFile[]): Path | null {
  if (typeof value !== "object" || value === null) return null;
  const { coordinates, features, geometries, geometry, properties, type } = value as Record<string, unknown>;
  const each = (list: unknown, of: string) => {
    if (!Array.isArray(list)) return [...path, of];
    for (const [at, one] of list.entries()) {
      const fault = collect(one, [...path, of, at], name, areas);
      if (fault !== null) return fault;
    }
    return null;
  };
  if (type === "FeatureCollection") return each(features, "features");
  if (type === "GeometryCollection") return each(geometries, "geometries");
  if (type === "Feature") return collect(geometry, [...path, "geometry"], nameIn(properties), areas);
  if (type !== "Polygon" && type !== "MultiPolygon") return null;
  const at = [...path, "coordinates"];
  const polygons: unknown = type === "Polygon" ? [coordinates] : coordinates;
  if (!Array.isArray(polygons) || polygons.length === 0) return at;
  for (const [polygon, rings] of polygons.entries()) {
    const within = type === "Polygon" ? at : [...at, polygon];
    if (!Array.isArray(rings) || rings.length === 0) return within;
    for (const [ring, positions] of rings.entries()) {
      // RFC 7946, section 3.1.6: a ring has four positions or more.
      if (!Array.isArray(positions) || positions.length < 4) return [...within, ring];
      const bad = positions.findIndex((position) => !isPosition(position));
      if (bad >= 0) return [...within, ring, bad];
    }
  }
  areas.push({ name, geometry: areaOf(polygons as LonLat[][][]) });
  return null;
}

function nameIn(properties: unknown): string | null {
  const { id, name } = (properties ?? {}) as Record<string, unknown>;
  return typeof name === "string" ? name : typeof id === "string" ? id : null;
}
