import type { Path } from "../../../../../shared/model/faults.ts";
import { fieldGroundFaults } from "../../../../../shared/model/geometryFaults.ts";
import { drawWords } from "../../strings/draw.ts";
import { crossingIn } from "./crossings.ts";
import type { Sketch } from "./sketch.ts";
import { type Laid, planeOfSketch, xyOf } from "./sketchGeometry.ts";

/** What a ring is called: by its number where there are several of its kind. */
export function ringNames({ rings }: Sketch): string[] {
  const seen = { outline: 0, obstacle: 0 };
  return rings.map(({ kind }) => {
    seen[kind]++;
    const isOnly = rings.filter((other) => other.kind === kind).length === 1;
    return isOnly ? drawWords.ring[kind] : drawWords.numbered(drawWords.ring[kind], seen[kind]);
  });
}

/** Why what is drawn is no field yet, each with its place; none for an empty sheet. */
export function sketchFaults(sketch: Sketch, laid: Laid | null): string[] {
  const names = ringNames(sketch);
  const ofRings = sketch.rings.flatMap((ring, at) => {
    const { corners } = ring;
    if (corners.length === 0) return [];
    if (corners.length < 3) return [drawWords.tooFew(names[at]!, 3 - corners.length)];
    const crossing = crossingIn(xyOf(planeOfSketch(ring), ring));
    return crossing === null ? [] : [drawWords.crosses(names[at]!, crossing, corners.length)];
  });
  if (ofRings.length > 0 || laid === null) return ofRings;
  const { geometry, ringsOf } = laid;
  return fieldGroundFaults([], geometry).map(({ expected, path, value }) => {
    const ring = ringOf(path, geometry.type === "MultiPolygon", ringsOf);
    return ring === null
      ? drawWords.isNot(drawWords.whole, expected, typeof value === "string" ? value : null)
      : drawWords.isNot(names[ring]!, expected, null);
  });
}

/** A path is `coordinates`, the polygon where there are several, and the ring; of the whole it is empty. */
function ringOf(path: Path, isMulti: boolean, ringsOf: Laid["ringsOf"]): number | null {
  if (path.length === 0) return null;
  const steps = path.slice(1);
  const [polygon, ring] = isMulti ? steps : [0, ...steps];
  if (typeof polygon !== "number") return null;
  return ringsOf[polygon]?.[typeof ring === "number" ? ring : 0] ?? null;
}
