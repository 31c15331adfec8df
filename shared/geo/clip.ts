import { Clipper, ClipType, EndType, FillRule, JoinType, type PathsD, type PolyPathD, PolyTreeD } from "clipper2-ts";
import { signedRingAreaM2 } from "./area.ts";
import type { AreaXY, PointXY, PolygonXY, Ring } from "./plane.ts";
import type { ShapeXY } from "./shape.ts";

/** Corners land on a grid of 0.01 mm, fine enough that cutting a field in pieces loses less than 1e-6 of it. */
const decimals = 5;
/** How far a chord of a rounded corner may lie inside the true arc. */
const arcToleranceM = 0.01;
/** Our choice: rings below this are dust from rounding and are dropped. */
const dustM2 = 0.01;
/** Only mitred joins have a limit; round ones ignore it. */
const miterLimit = 2;

/** Ground that lies in both. */
export function intersection(one: AreaXY, other: AreaXY): AreaXY {
  return combine(ClipType.Intersection, one, other);
}
/** Ground of the first that is not in the second. */
export function difference(one: AreaXY, other: AreaXY): AreaXY {
  return combine(ClipType.Difference, one, other);
}
/** Ground that lies in any of the areas; they may overlap. */
export function union(areas: readonly AreaXY[]): AreaXY {
  return combine(ClipType.Union, areas.flat(), []);
}

/** Ground nearer to the area than the distance, corners rounded; a negative distance shrinks it. */
export function offset(area: AreaXY, distanceM: number): AreaXY {
  return dissolve(inflate(pathsOf(area), distanceM, EndType.Polygon));
}

/** Ground nearer to a place than the distance. */
export function offsetShape(shape: ShapeXY, distanceM: number): AreaXY {
  if (shape.kind === "area") return distanceM === 0 ? union([shape.area]) : offset(shape.area, distanceM);
  if (distanceM === 0) return [];
  const points = shape.kind === "point" ? [shape.point] : shape.points;
  return dissolve(inflate([points.map(toPath)], distanceM, EndType.Round));
}

function inflate(paths: PathsD, distanceM: number, ends: EndType): PathsD {
  return Clipper.inflatePathsD(paths, distanceM, JoinType.Round, ends, miterLimit, decimals, arcToleranceM);
}

function combine(operation: ClipType, one: AreaXY, other: AreaXY): AreaXY {
  const tree = new PolyTreeD();
  Clipper.booleanOpDWithPolyTree(operation, pathsOf(one), pathsOf(other), tree, FillRule.NonZero, decimals);
  return areaOf(tree);
}

/** Sort loose rings into polygons with their holes. */
function dissolve(paths: PathsD): AreaXY {
  const tree = new PolyTreeD();
  Clipper.booleanOpDWithPolyTree(ClipType.Union, paths, null, tree, FillRule.NonZero, decimals);
  return areaOf(tree);
}

function toPath([x, y]: PointXY): { x: number; y: number } {
  return { x, y };
}

function pathsOf(area: AreaXY): PathsD {
  return area.flat().map((ring) => ring.map(toPath));
}

function ringOf(node: PolyPathD): Ring {
  return (node.poly ?? []).map(({ x, y }): PointXY => [x, y]);
}

function areaOf(tree: PolyTreeD): AreaXY {
  const area: PolygonXY[] = [];
  const collect = (parent: PolyPathD): void => {
    for (let i = 0; i < parent.count; i++) {
      const outer = parent.child(i);
      const rings = [ringOf(outer)];
      for (let h = 0; h < outer.count; h++) {
        const hole = outer.child(h);
        rings.push(ringOf(hole));
        collect(hole);
      }
      if (Math.abs(signedRingAreaM2(rings[0]!)) >= dustM2) {
        area.push(rings.filter((ring) => Math.abs(signedRingAreaM2(ring)) >= dustM2));
      }
    }
  };
  collect(tree);
  return area;
}
