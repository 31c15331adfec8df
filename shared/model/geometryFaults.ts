import { areaM2, selfIntersects, signedRingAreaM2 } from "../geo/area.ts";
import { difference, intersection, union } from "../geo/clip.ts";
import { planeOf, toAreaXY } from "../geo/convert.ts";
import { distanceM } from "../geo/distance.ts";
import { createPlane, type Plane, type PointXY, type PolygonXY } from "../geo/plane.ts";
import { type Fault, type Path, valueAt } from "./faults.ts";
import type { AreaGeometry, FieldFeature, Position } from "./field.ts";
import type { Order } from "./order.ts";
import type { Located, Parts } from "./parts.ts";

/** Our choice: what no field is, and what only a slip of the hand makes of it. */
const smallestFieldHa = 0.02;
const largestFieldHa = 5000;
/** Ground below this is taken for rounding: neighbours that touch do not overlap. */
const roundingM2 = 1;

interface LocatedPolygon {
  path: Path;
  rings: readonly (readonly Position[])[];
}

function polygonsOf(path: Path, geometry: AreaGeometry): LocatedPolygon[] {
  if (geometry.type === "Polygon") return [{ path, rings: geometry.coordinates }];
  return geometry.coordinates.map((rings, at) => ({ path: [...path, at], rings }));
}

const polygonXY = (plane: Plane, { rings }: LocatedPolygon): PolygonXY =>
  rings.map((ring) => toAreaXY(plane, { type: "Polygon", coordinates: [ring] })[0]![0]!);

function ringFaults(plane: Plane, polygon: LocatedPolygon): Fault[] {
  const inPlane = polygonXY(plane, polygon);
  return polygon.rings.flatMap((ring, at): Fault[] => {
    const path = [...polygon.path, at];
    const [first, last] = [ring[0]!, ring[ring.length - 1]!];
    if (first[0] !== last[0] || first[1] !== last[1]) {
      return [
        {
          path: [...path, ring.length - 1],
          value: last,
          expected: `${JSON.stringify(first)}: a ring ends where it begins`,
        },
      ];
    }
    const ringXY = inPlane[at]!;
    // A figure of eight can have no area in sum, so a ring is asked for crossings first; a mere line has three points or less.
    if (ringXY.length > 3 && selfIntersects(ringXY)) {
      return [{ path, value: ring, expected: "a ring that neither crosses nor touches itself" }];
    }
    if (Math.abs(signedRingAreaM2(ringXY)) < roundingM2)
      return [{ path, value: ring, expected: "a ring with ground inside" }];
    return [];
  });
}

function holeFaults(plane: Plane, polygon: LocatedPolygon): Fault[] {
  const [outer, ...holes] = polygonXY(plane, polygon);
  return holes.flatMap((hole, at) => {
    const path = [...polygon.path, at + 1];
    const value = polygon.rings[at + 1];
    const outsideM2 = areaM2(difference([[hole]], [[outer!]]));
    if (outsideM2 > roundingM2) {
      const whole = outsideM2 > Math.abs(signedRingAreaM2(hole)) - roundingM2;
      return [{ path, value, expected: `a hole inside the outer ring; it ${whole ? "lies outside" : "crosses it"}` }];
    }
    const overlaps = holes.slice(0, at).some((other) => areaM2(intersection([[hole]], [[other]])) > roundingM2);
    return overlaps ? [{ path, value, expected: "a hole that overlaps no other hole" }] : [];
  });
}

function overlapFaults(plane: Plane, polygons: readonly LocatedPolygon[]): Fault[] {
  const inPlane = polygons.map((polygon) => polygonXY(plane, polygon));
  return polygons.flatMap(({ path, rings }, at) => {
    const overlaps = inPlane.slice(0, at).some((other) => areaM2(intersection([inPlane[at]!], [other])) > roundingM2);
    return overlaps ? [{ path, value: rings, expected: "a polygon that overlaps no other of its geometry" }] : [];
  });
}

/** Each check needs what the one before has found sound. */
function areaFaults(path: Path, geometry: AreaGeometry): Fault[] {
  const polygons = polygonsOf([...path, "coordinates"], geometry);
  // A geometry that may be no ground at all has no centre to put the plane at.
  const [lonDeg, latDeg] = polygons[0]!.rings[0]![0]!;
  const plane = createPlane(lonDeg, latDeg);
  const inRings = polygons.flatMap((polygon) => ringFaults(plane, polygon));
  if (inRings.length > 0) return inRings;
  return [...polygons.flatMap((polygon) => holeFaults(plane, polygon)), ...overlapFaults(plane, polygons)];
}

/** What is wrong with the ground of a field. */
export function fieldGroundFaults(path: Path, geometry: AreaGeometry): Fault[] {
  const faults = areaFaults(path, geometry);
  if (faults.length > 0) return faults;
  const areaHa = areaM2(toAreaXY(planeOf(geometry), geometry)) / 10_000;
  if (areaHa >= smallestFieldHa && areaHa <= largestFieldHa) return [];
  const expected = `a field of ${smallestFieldHa} to ${largestFieldHa} ha`;
  return [{ path, value: `${Number(areaHa.toPrecision(3))} ha`, expected }];
}

const fieldFaults = ({ path, item: { geometry } }: Located<FieldFeature>): Fault[] =>
  fieldGroundFaults([...path, "geometry"], geometry);

/** RFC 7946, section 4: coordinates are WGS 84; files of the older kind may name another system. */
export function coordinateSystemFaults(raw: unknown): Fault[] {
  return ["fields", "sensitive"].flatMap((part) => {
    const crs = valueAt(raw, [part, "crs"]);
    const name = valueAt(crs, ["properties", "name"]);
    if (crs === undefined || (typeof name === "string" && /CRS84$|EPSG:+4326$/.test(name))) return [];
    return [{ path: [part, "crs"], value: name ?? crs, expected: "nothing, or WGS 84 as urn:ogc:def:crs:OGC::CRS84" }];
  });
}

/** Positions with 7 decimals lie up to 8 mm off, on either side. */
const outlineSlackM = 0.03;

/**
 * The part of a field that an order is about. It is what is left of a field as blocks were cut, so its rings may touch; they are measured against what they cover.
 */
function orderGroundFaults(
  { path, item: { ground, fieldId } }: Located<Order>,
  fields: readonly FieldFeature[],
): Fault[] {
  const field = fields.find(({ properties }) => properties.id === fieldId);
  if (ground === undefined || field === undefined) return [];
  const at = [...path, "ground"];
  const open = ground.coordinates.flat().some((ring) => {
    const [first, last] = [ring[0]!, ring.at(-1)!];
    return first[0] !== last[0] || first[1] !== last[1];
  });
  if (open) return [{ path: at, value: ground, expected: "rings that end where they begin" }];
  const plane = planeOf(field.geometry);
  const [area, fieldArea] = [toAreaXY(plane, ground), toAreaXY(plane, field.geometry)];
  const covered = union([area]);
  const lengthM = area.flat().reduce((sum, ring) => sum + ringLengthM(ring), 0);
  const slackM2 = Math.max(roundingM2, lengthM * outlineSlackM);
  const coveredM2 = areaM2(covered);
  if (coveredM2 < smallestFieldHa * 10_000) {
    return [
      {
        path: at,
        value: Number((coveredM2 / 10_000).toPrecision(3)),
        expected: `ground of ${smallestFieldHa} ha or more`,
      },
    ];
  }
  if (Math.abs(areaM2(area) - coveredM2) > slackM2) {
    return [{ path: at, value: ground, expected: "polygons that neither cross nor overlap" }];
  }
  const outsideM2 = areaM2(difference(covered, fieldArea));
  if (outsideM2 <= slackM2) return [];
  return [
    { path: at, value: ground, expected: `ground inside field ${fieldId}; ${Math.ceil(outsideM2)} m² lie outside` },
  ];
}

function ringLengthM(ring: readonly PointXY[]): number {
  return ring.reduce((sum, point, index) => sum + distanceM(point, ring[(index + 1) % ring.length]!), 0);
}

/** Ground that cannot be: rings that do not close or cross, holes outside, sizes no field has. */
export function geometryFaults(parts: Parts): Fault[] {
  const sensitive = parts.sensitive.entries.flatMap(({ path, item: { geometry } }) =>
    geometry.type === "Point" || geometry.type === "LineString" ? [] : areaFaults([...path, "geometry"], geometry),
  );
  const ofFields = parts.fields.entries.flatMap(fieldFaults);
  const fields = ofFields.length > 0 ? [] : parts.fields.entries.map(({ item }) => item);
  return [...ofFields, ...sensitive, ...parts.orders.entries.flatMap((order) => orderGroundFaults(order, fields))];
}
