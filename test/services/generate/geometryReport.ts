import Flatbush from "flatbush";
import geodesic from "geographiclib-geodesic";
import { areaM2, contains, isCounterClockwise, selfIntersects } from "../../../shared/geo/area.ts";
import { intersection } from "../../../shared/geo/clip.ts";
import { planeOf, toAreaXY, toShapeXY } from "../../../shared/geo/convert.ts";
import { distanceToShapeM, nearestOnShape } from "../../../shared/geo/distance.ts";
import type { LonLat, PointXY } from "../../../shared/geo/plane.ts";
import type { FieldFeature, SensitiveFeature } from "../../../shared/model/field.ts";
import type { Operation } from "../../../shared/model/operation.ts";

export interface GeometryReport {
  readonly faults: readonly string[];
  readonly fields: readonly { readonly id: string; readonly areaHa: number; readonly holesHa: number }[];
}

type Polygon = readonly (readonly LonLat[])[];

const polygonsOf = ({ geometry }: FieldFeature): readonly Polygon[] =>
  geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;

/** Area of a ring on the ellipsoid by GeographicLib, ha. */
function ringHa(ring: readonly LonLat[]): number {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  for (const [lonDeg, latDeg] of ring.slice(1)) polygon.AddPoint(latDeg, lonDeg);
  return Math.abs(polygon.Compute(false, true).area!) / 10_000;
}

/** What is wrong with the ground of an operation, and the areas of its fields on the ellipsoid. */
export function geometryReport(operation: Operation): GeometryReport {
  const { features } = operation.fields;
  return {
    faults: [...features.flatMap(fieldFaults), ...neighbourFaults(features), ...placeFaults(operation)],
    fields: features.map((feature) => {
      const holesHa = polygonsOf(feature).flatMap(([, ...holes]) => holes.map(ringHa));
      const outersHa = polygonsOf(feature).map(([outer]) => ringHa(outer!));
      const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
      return { id: feature.properties.id, areaHa: sum(outersHa) - sum(holesHa), holesHa: sum(holesHa) };
    }),
  };
}

function fieldFaults(feature: FieldFeature): string[] {
  const plane = planeOf(feature.geometry);
  const faults: string[] = [];
  const say = (fault: string) => faults.push(`${feature.properties.id}: ${fault}`);
  const outers = polygonsOf(feature).map((rings) => {
    const xy = rings.map((ring, index) => {
      const last = ring[ring.length - 1]!;
      if (ring[0]![0] !== last[0] || ring[0]![1] !== last[1]) say("a ring is not closed");
      const points = ring.slice(1).map((position) => plane.toXY(position));
      if (selfIntersects(points)) say("a ring crosses itself");
      if (isCounterClockwise(points) !== (index === 0)) say("a ring runs the wrong way");
      return points;
    });
    const [outer, ...holes] = xy;
    holes.forEach((hole, index) => {
      for (const corner of hole) {
        if (!contains([[outer!]], corner)) say("a hole lies outside");
        if (nearestOnShape(corner, edgeOf(outer!)).distanceM < 5) say("a hole touches the edge");
      }
      for (const other of holes.slice(index + 1)) {
        if (areaM2(intersection([[hole]], [[other]])) > 0) say("two holes overlap");
      }
    });
    return [outer!];
  });
  if (outers.length > 1 && areaM2(intersection([outers[0]!], [outers[1]!])) > 0) say("two parts overlap");
  for (const { latDeg, lonDeg, id } of feature.properties.pads) {
    const pad = plane.toXY([lonDeg, latDeg]);
    const offM = Math.min(...outers.map(([outer]) => nearestOnShape(pad, edgeOf(outer!)).distanceM));
    if (contains(outers, pad)) say(`pad ${id} lies in the field`);
    if (offM < 3 || offM > 25) say(`pad ${id} lies ${offM} m from the field`);
  }
  return faults;
}

const edgeOf = (ring: readonly PointXY[]) => ({ kind: "line", points: [...ring, ring[0]!] }) as const;

function boxOf(feature: FieldFeature): [west: number, south: number, east: number, north: number] {
  const positions = polygonsOf(feature).flat(2);
  const lonDeg = positions.map(([lon]) => lon!);
  const latDeg = positions.map(([, lat]) => lat!);
  return [Math.min(...lonDeg), Math.min(...latDeg), Math.max(...lonDeg), Math.max(...latDeg)];
}

function indexOf(features: readonly FieldFeature[]): Flatbush {
  const index = new Flatbush(features.length);
  for (const feature of features) index.add(...boxOf(feature));
  index.finish();
  return index;
}

function neighbourFaults(features: readonly FieldFeature[]): string[] {
  const index = indexOf(features);
  return features.flatMap((feature, at) => {
    const plane = planeOf(feature.geometry);
    const mine = toAreaXY(plane, feature.geometry);
    return index
      .search(...boxOf(feature))
      .filter((other) => other > at)
      .filter((other) => areaM2(intersection(mine, toAreaXY(plane, features[other]!.geometry))) > 0.01)
      .map((other) => `${feature.properties.id} overlaps ${features[other]!.properties.id}`);
  });
}

/** Places, yards and water points must lie off the fields. */
function placeFaults({ fields, sensitive, settings }: Operation): string[] {
  const index = indexOf(fields.features);
  const yards = [...settings.bases, ...settings.waterPoints].map(({ id, lonDeg, latDeg }) => ({
    id: id as string,
    radiusM: 10,
    geometry: { type: "Point", coordinates: [lonDeg, latDeg] } as SensitiveFeature["geometry"],
  }));
  const places = sensitive.features.map(({ geometry, properties: { id, radiusM } }) => ({
    id: id as string,
    radiusM: Math.max(1, radiusM),
    geometry,
  }));
  return [...yards, ...places].flatMap(({ id, radiusM, geometry }) => {
    const positions: LonLat[] =
      geometry.type === "Point"
        ? [geometry.coordinates]
        : geometry.type === "LineString"
          ? geometry.coordinates
          : geometry.type === "Polygon"
            ? geometry.coordinates.flat()
            : geometry.coordinates.flat(2);
    const lonDeg = positions.map(([lon]) => lon);
    const latDeg = positions.map(([, lat]) => lat);
    // A thousandth of a degree is more than the radius of any place here.
    const near = index.search(
      Math.min(...lonDeg) - 0.001,
      Math.min(...latDeg) - 0.001,
      Math.max(...lonDeg) + 0.001,
      Math.max(...latDeg) + 0.001,
    );
    return near
      .map((at) => fields.features[at]!)
      .filter((feature) => {
        const plane = planeOf(feature.geometry);
        return distanceToShapeM(toAreaXY(plane, feature.geometry), toShapeXY(plane, geometry)) < radiusM;
      })
      .map((feature) => `${id} lies on ${feature.properties.id}`);
  });
}
