import { areaM2 } from "../geo/area.ts";
import { geometryCentroidLonLat, toAreaXY, toShapeXY } from "../geo/convert.ts";
import { greatCircleKm } from "../geo/distance.ts";
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

/** A little less than a great circle's: the sphere has 111.19. */
const leastKmPerDegNorth = 111;

/** The places of an operation, ready to be asked for those around a field. */
export type PlacesNear = (field: FieldFeature, ground: FieldGround, withinM: number) => Place[];

export function createPlacesNear(features: readonly SensitiveFeature[]): PlacesNear {
  const circles = features.map(({ geometry }) => circleAround(geometry));
  const circleOf = remember((field: FieldFeature) => circleAround(field.geometry));
  return (field, ground, withinM) => {
    const fieldCircle = circleOf(field);
    const latDeg = fieldCircle.centre[1];
    return features.flatMap((feature, index) => {
      const circle = circles[index]!;
      const radiusM = feature.geometry.type === "Point" ? feature.properties.radiusM : 0;
      // A sphere and a plane differ by some parts in a thousand; only far places may be passed over here.
      const reachKm = 1.01 * (fieldCircle.radiusKm + circle.radiusKm + (1.01 * (withinM + radiusM)) / 1000);
      // Most are far by their latitude alone.
      if (Math.abs(circle.centre[1] - latDeg) * leastKmPerDegNorth > reachKm) return [];
      if (greatCircleKm(fieldCircle.centre, circle.centre) > reachKm) return [];
      return [{ feature, shape: toShapeXY(ground.plane, feature.geometry), radiusM }];
    });
  };
}

/** A circle that holds the whole geometry, around one of its positions. */
function circleAround(geometry: FieldFeature["geometry"] | SensitiveFeature["geometry"]) {
  const positions = positionsOf(geometry);
  const centre = positions[0]!;
  return { centre, radiusKm: Math.max(...positions.map((position) => greatCircleKm(centre, position))) };
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
