import { geometryCentroidLonLat } from "../../../../shared/geo/convert.ts";
import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { SensitiveOnMap } from "../../../../shared/plan/mapPlaces.ts";
import { mapWords } from "../strings/map.ts";
import type { MapArea, MapItems, MapLine, MapPoint } from "./items.ts";

/** Sensitive areas as they lie, each with the sign of its kind; `labelOf`: what stands beside them. */
export function sensitiveItems(
  sensitive: readonly SensitiveOnMap[],
  fades: (one: SensitiveOnMap) => boolean,
  labelOf: (one: SensitiveOnMap) => string | null,
): MapItems {
  const areas: MapArea[] = [];
  const lines: MapLine[] = [];
  const points: MapPoint[] = [];
  for (const one of sensitive) {
    const { geometry, id, kind } = one;
    const isFaded = fades(one);
    const label = labelOf(one);
    const title = mapWords.sensitive(one.name, mapWords.kinds[kind]);
    const drawn = { title, label: null, labelWeight: 0, isFaded, chooses: null };
    if (geometry.type === "Polygon" || geometry.type === "MultiPolygon") {
      areas.push({ ...drawn, id: `sensitive ${id}`, look: kind, geometry, isChosen: false });
    }
    if (geometry.type === "LineString") {
      const positions = geometry.coordinates;
      lines.push({
        id: `sensitive ${id}`,
        look: "water",
        title,
        positions,
        hasArrow: false,
        isFaded,
        seen: null,
        label: null,
      });
    }
    points.push({
      ...drawn,
      id: `sign ${id}`,
      look: kind,
      at: signAt(geometry),
      text: null,
      label,
      labelWeight: label === null ? 0 : 1500,
      reachM: one.radiusM,
      mayShrink: true,
    });
  }
  return { areas, lines, points };
}

function signAt(geometry: SensitiveOnMap["geometry"]): LonLat {
  if (geometry.type === "Point") return geometry.coordinates;
  if (geometry.type === "LineString") return geometry.coordinates[Math.floor(geometry.coordinates.length / 2)]!;
  return geometryCentroidLonLat(geometry);
}
