import { areaM2 } from "../geo/area.ts";
import { geometryCentroidLonLat, toAreaXY, toShapeXY } from "../geo/convert.ts";
import { greatCircleKm, onSphereKm } from "../geo/distance.ts";
import { type AreaXY, createPlane, type LonLat, type Plane } from "../geo/plane.ts";
import type { ShapeXY } from "../geo/shape.ts";
import type { FieldFeature, SensitiveFeature } from "../model/field.ts";
import { remember } from "../model/remember.ts";
import { haFromM2 } from "../units/units.ts";

/** A field in its own plane, whose origin is the field's centroid. */
export interface FieldGround {
  readonly plane: Plane;
  readonly area: AreaXY;
  readonly fieldHa: number;
  readonly centroid: LonLat;
}

/** A sensitive place in a field's plane. */
export interface Place {
  readonly feature: SensitiveFeature;
  readonly shape: ShapeXY;
  /** How far the place itself reaches beyond its shape; only a point has such a radius. */
  readonly radiusM: number;
}

export function createGround({ geometry }: FieldFeature): FieldGround {
  const centroid = geometryCentroidLonLat(geometry);
  const plane = createPlane(...centroid);
  const area = toAreaXY(plane, geometry);
  return { plane, area, fieldHa: haFromM2(areaM2(area)), centroid };
}

/** The places of an operation, ready to be asked for those around a field. */
export type PlacesNear = (field: FieldFeature, ground: FieldGround, withinM: number) => Place[];

/** Our choice: so much of a kilometre is lost to rounding at most. */
const roundingKm = 1e-6;

export function createPlacesNear(features: readonly SensitiveFeature[]): PlacesNear {
  const circles = features.map(({ geometry }) => circleAround(geometry));
  const ownM = features.map(({ geometry, properties }) => (geometry.type === "Point" ? properties.radiusM : 0));
  const circleOf = remember((field: FieldFeature) => circleAround(field.geometry));
  // Nearly all places are far from a field: lists of numbers are gone through fastest.
  const xKm = Float64Array.from(circles, ({ at }) => at[0]);
  const yKm = Float64Array.from(circles, ({ at }) => at[1]);
  const zKm = Float64Array.from(circles, ({ at }) => at[2]);
  const ownReachKm = Float64Array.from(circles, ({ radiusKm }, index) => radiusKm + (1.01 * ownM[index]!) / 1000);
  return (field, ground, withinM) => {
    const { centre, radiusKm, at } = circleOf(field);
    const [atX, atY, atZ] = at;
    const near: Place[] = [];
    for (let index = 0; index < circles.length; index++) {
      // A sphere and a plane differ by some parts in a thousand; only far places may be passed over here.
      const reachKm = 1.01 * (radiusKm + ownReachKm[index]! + (1.01 * withinM) / 1000);
      // Straight through the earth is no longer than around it.
      const apart = (xKm[index]! - atX) ** 2 + (yKm[index]! - atY) ** 2 + (zKm[index]! - atZ) ** 2;
      if (apart > (reachKm + roundingKm) ** 2 || greatCircleKm(centre, circles[index]!.centre) > reachKm) continue;
      const feature = features[index]!;
      near.push({ feature, shape: toShapeXY(ground.plane, feature.geometry), radiusM: ownM[index]! });
    }
    return near;
  };
}

/** A circle that holds the whole geometry, around one of its positions. */
function circleAround(geometry: FieldFeature["geometry"] | SensitiveFeature["geometry"]) {
  const positions = positionsOf(geometry);
  const centre = positions[0]!;
  const radiusKm = Math.max(...positions.map((position) => greatCircleKm(centre, position)));
  return { centre, radiusKm, at: onSphereKm(centre) };
}

function positionsOf(geometry: FieldFeature["geometry"] | SensitiveFeature["geometry"]): LonLat[] {
  switch (geometry.type) {
    case "Point":
      return [geometry.coordinates];
    case "LineString":
      return geometry.coordinates;
    case "Polygon":
      return geometry.coordinates.flat();
    case "MultiPolygon":
      return geometry.coordinates.flat(2);
  }
}
