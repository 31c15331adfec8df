import { leastHa } from "../../shared/agronomy/treatedArea.ts";
import { areaM2 } from "../../shared/geo/area.ts";
import { difference, intersection, offset, union } from "../../shared/geo/clip.ts";
import { toAreaXY } from "../../shared/geo/convert.ts";
import type { AreaXY, Plane } from "../../shared/geo/plane.ts";
import { tidy } from "../../shared/geo/tidy.ts";
import type { Block } from "../../shared/plan/plan.ts";
import { haFromM2 } from "../../shared/units/units.ts";

/** Positions with 7 decimals lose so much of a block at most. */
const insideShare = 0.995;
/** As for orders done in part: no slit is left between what is cut and what is not. */
const outlineSlackM = 0.02;
/** What is left beside the blocks is less than the checker looks for. */
const restShare = 0.003;
/** Rounded positions change the area of a small block by so much; a cut at another pass changes it by far more. */
export const sameShare = 1e-3;

/**
 * The ground as a plan that people know has cut it: its blocks that are there still, and what is left beside them. Undefined where it has none there. Crews and growers have been told of
 * these pieces, and a new forecast is no reason to cut them otherwise.
 */
export function keptCut(
  blocks: readonly Block[],
  plane: Plane,
  { area, areaHa }: { readonly area: AreaXY; readonly areaHa: number },
): AreaXY[] | undefined {
  const before = blocks
    .toSorted((a, b) => a.part - b.part)
    .map((block) => ({ areaHa: block.areaHa, area: toAreaXY(plane, block.geometry) }));
  const sumHa = before.reduce((sum, block) => sum + block.areaHa, 0);
  const isWhole = Math.abs(sumHa - areaHa) <= sameShare * areaHa;
  if (isWhole && before.length === 1) return [area];
  const kept = isWhole
    ? before
    : before.filter((block) => haFromM2(areaM2(intersection(block.area, area))) >= insideShare * block.areaHa);
  if (kept.length === 0) return undefined;
  const restHa = areaHa - kept.reduce((sum, block) => sum + block.areaHa, 0);
  const areas = kept.map((block) => block.area);
  if (restHa <= restShare * areaHa) return areas;
  const rest = tidy(difference(area, offset(union(areas), outlineSlackM)));
  return restHa < leastHa || rest.length === 0 ? undefined : [...areas, rest];
}

/** Whether the ground is cut as it was; then what is cut afresh is exact, and what was written down is rounded. */
export function isCutAs(one: readonly AreaXY[], other: readonly AreaXY[]): boolean {
  return (
    one.length === other.length &&
    one.every((area, at) => {
      const [m2, otherM2] = [areaM2(area), areaM2(other[at]!)];
      return Math.abs(m2 - otherM2) <= sameShare * m2;
    })
  );
}
