import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { HazardOnMap } from "../../../../shared/plan/hazards.ts";
import { measuresOf } from "../../../../shared/plan/measures.ts";
import type { UnitSystem } from "../../../../shared/units/units.ts";
import { hazardWords } from "../strings/hazards.ts";
import type { MapItems, MapLine, MapPoint } from "./items.ts";
import { signsFromMPerPx } from "./scale.ts";

/** What an aircraft could fly into: wires as marked lines, all with the sign of their kind; `hasHeights`: their heights stand beside them. */
export function hazardItems(
  hazards: readonly HazardOnMap[],
  system: UnitSystem,
  fades: (one: HazardOnMap) => boolean,
  hasHeights = false,
): Pick<MapItems, "lines" | "points"> {
  const measures = measuresOf[system];
  const lines: MapLine[] = [];
  const points: MapPoint[] = [];
  for (const one of hazards) {
    const { geometry, heightM, id, kind, note } = one;
    const isFaded = fades(one);
    const title = hazardWords.sign(hazardWords.name(one, measures), note);
    if (geometry.type === "LineString") {
      const seen = { aboveMPerPx: 0, upToMPerPx: signsFromMPerPx, arrowUpToMPerPx: 0 };
      const drawn = { title, positions: geometry.coordinates, hasArrow: false, isFaded, seen, label: null };
      lines.push(
        { ...drawn, id: `hazard ${id}`, look: "hazard" },
        { ...drawn, id: `marks ${id}`, look: "hazardMarks" },
      );
    }
    points.push({
      id: `hazard sign ${id}`,
      look: `hazard ${kind}`,
      at: signAt(geometry),
      text: null,
      title,
      label: hasHeights && heightM !== null ? measures.keep(heightM) : null,
      labelWeight: hasHeights ? 2200 : 0,
      isFaded,
      chooses: null,
      reachM: 0,
      mayShrink: !hasHeights,
    });
  }
  return { lines, points };
}

/** In the middle of the line's middle piece, since its ends often lie out of sight. */
function signAt(geometry: HazardOnMap["geometry"]): LonLat {
  if (geometry.type === "Point") return geometry.coordinates;
  const { coordinates } = geometry;
  const at = Math.max(1, Math.floor(coordinates.length / 2));
  const [from, to] = [coordinates[at - 1]!, coordinates[at]!];
  return [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
}
