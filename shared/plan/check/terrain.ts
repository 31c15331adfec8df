import { areaM2 } from "../../geo/area.ts";
import { difference, intersection, offsetShape, union } from "../../geo/clip.ts";
import { geometryCentroidLonLat, toAreaXY, toShapeXY } from "../../geo/convert.ts";
import { distanceToShapeM, lengthOfM } from "../../geo/distance.ts";
import { type AreaXY, createPlane, type LonLat, type Plane, type PointXY } from "../../geo/plane.ts";
import type { ShapeXY } from "../../geo/shape.ts";
import type { SensitiveFeature, SensitiveGeometry } from "../../model/field.ts";
import type { Buffer } from "../../model/product.ts";
import { dropletClasses } from "../../model/quantities.ts";
import { haFromM2 } from "../../units/units.ts";
import type { Block } from "../plan.ts";
import type { Facts, Mix } from "./facts.ts";
import { directionsFromOutline } from "./outline.ts";

export interface FieldGround {
  readonly plane: Plane;
  readonly area: AreaXY;
  readonly centroidLonLat: LonLat;
}

/** A sensitive place and the distance that the mix's labels keep from it. */
export interface KeptPlace {
  readonly place: SensitiveFeature;
  readonly shape: ShapeXY;
  /** From the drawn place; a point's own radius is included. */
  readonly keptM: number;
  /** How far the place itself reaches beyond the drawn one. */
  readonly radiusM: number;
  /** From the drawn place to the nearest ground of the field. */
  readonly fieldM: number;
}

/** What a buffer does: keep ground free at all times, stop the field or spare its near part in some winds. */
export type BufferEffect = "keepsFree" | "stopsField" | "sparesPart";

export interface Terrain {
  field(mix: Mix): FieldGround;
  /** Places so near to the field that a buffer of the wanted effect reaches it; the greatest distance of each. */
  keptPlaces(mix: Mix, effect: BufferEffect): readonly KeptPlace[];
  /** Degrees between the wind and the nearest way that it would carry spray from the field to the place. */
  offWindDeg(mix: Mix, kept: KeptPlace, windFromDeg: number): number;
  treated(mix: Mix): AreaXY;
  /** Whether any treated ground lies so near to a place that a buffer may spare the rest of the field. */
  hasNearGround(mix: Mix): boolean;
  /** The block's ground in the field's plane; empty when it cannot be measured. */
  block(mix: Mix, block: Block): AreaXY;
}

/** Treated ground that is nearer than its buffer to a place, DEVELOPERS.md, Where: less than this is none. */
const nearGroundLeastM2 = 0.1;

export function createTerrain(facts: Facts): Terrain {
  const grounds = new Map<string, FieldGround>();
  const treatedAreas = new Map<string, AreaXY>();
  const nearGrounds = new Map<Mix, boolean>();
  /** Of mixes that keep the same distances on a field, and of each mix. */
  const keptLists = new Map<string, readonly KeptPlace[]>();
  const keptOfMix: Readonly<Record<BufferEffect, Map<Mix, readonly KeptPlace[]>>> = {
    keepsFree: new Map(),
    stopsField: new Map(),
    sparesPart: new Map(),
  };
  const directions = new Map<KeptPlace, readonly number[]>();
  const boxes = facts.operation.sensitive.features.map((place) => ({
    place,
    radiusM: place.geometry.type === "Point" ? place.properties.radiusM : 0,
    ...boxOf(place.geometry),
  }));

  const field = (mix: Mix): FieldGround => {
    const { id } = mix.field.properties;
    const known = grounds.get(id);
    if (known !== undefined) return known;
    const [lonDeg, latDeg] = geometryCentroidLonLat(mix.field.geometry);
    const plane = createPlane(lonDeg, latDeg);
    const ground = {
      plane,
      area: toAreaXY(plane, mix.field.geometry),
      centroidLonLat: [lonDeg, latDeg] as const,
    };
    grounds.set(id, ground);
    return ground;
  };

  const keptPlaces = (mix: Mix, effect: BufferEffect): readonly KeptPlace[] => {
    const known = keptOfMix[effect].get(mix);
    if (known !== undefined) return known;
    const greatestM = greatestDistances(mix, effect);
    const key = keyOf(mix, greatestM);
    const kept = greatestM.size === 0 ? [] : (keptLists.get(key) ?? findKept(mix, greatestM));
    keptLists.set(key, kept);
    keptOfMix[effect].set(mix, kept);
    return kept;
  };

  const findKept = (mix: Mix, greatestM: ReadonlyMap<string, number>): KeptPlace[] => {
    const { plane, area } = field(mix);
    const fieldBox = cornersOf(area.flat(2));
    return boxes.flatMap(({ place, radiusM, southWest, northEast }) => {
      const distanceM = greatestM.get(place.properties.kind);
      if (distanceM === undefined) return [];
      const keptM = distanceM + radiusM;
      if (gapM(fieldBox, plane.toXY(southWest), plane.toXY(northEast)) >= keptM) return [];
      const shape = toShapeXY(plane, place.geometry);
      const fieldM = distanceToShapeM(area, shape);
      return fieldM < keptM ? [{ place, shape, keptM, radiusM, fieldM }] : [];
    });
  };

  const directionsTo = (mix: Mix, kept: KeptPlace): readonly number[] => {
    const known = directions.get(kept);
    if (known !== undefined) return known;
    const found = directionsFromOutline(field(mix).area, kept.shape, kept.keptM);
    directions.set(kept, found);
    return found;
  };

  const treated = (mix: Mix): AreaXY => {
    const { ground } = mix.order;
    const key = `${keyOf(mix, greatestDistances(mix, "keepsFree"))} ${ground === undefined ? "" : mix.order.id}`;
    const known = treatedAreas.get(key);
    if (known !== undefined) return known;
    const { plane, area: whole } = field(mix);
    const asked = ground === undefined ? whole : intersection(whole, union([toAreaXY(plane, ground)]));
    const area = keptPlaces(mix, "keepsFree").reduce<AreaXY>(
      (left, { shape, keptM }) => difference(left, offsetShape(shape, keptM)),
      asked,
    );
    treatedAreas.set(key, area);
    return area;
  };

  const findNearGround = (mix: Mix): boolean => {
    const spared = keptPlaces(mix, "sparesPart");
    if (spared.length === 0) return false;
    const near = union(spared.map(({ shape, keptM }) => offsetShape(shape, keptM)));
    return areaM2(intersection(treated(mix), near)) >= nearGroundLeastM2;
  };

  return {
    field,
    keptPlaces,
    treated,
    hasNearGround: (mix) => {
      const known = nearGrounds.get(mix) ?? findNearGround(mix);
      nearGrounds.set(mix, known);
      return known;
    },
    offWindDeg: (mix, kept, windFromDeg) => {
      // Ground of the field inside the place: every wind blows there.
      if (kept.fieldM <= kept.radiusM) return 0;
      return directionsTo(mix, kept).reduce(
        (leastDeg, towardsDeg) => Math.min(leastDeg, angleBetweenDeg(windFromDeg + 180, towardsDeg)),
        Number.POSITIVE_INFINITY,
      );
    },
    block: (mix, { geometry }) =>
      toAreaXY(field(mix).plane, geometry).filter((polygon) => (polygon[0]?.length ?? 0) > 0),
  };
}

function angleBetweenDeg(aDeg: number, bDeg: number): number {
  const turnDeg = Math.abs(aDeg - bDeg) % 360;
  return Math.min(turnDeg, 360 - turnDeg);
}

export function hectares(area: AreaXY): number {
  return haFromM2(areaM2(area));
}

/** Equal for mixes that keep the same distances on the same field. */
function keyOf(mix: Mix, greatestM: ReadonlyMap<string, number>): string {
  const distances = [...greatestM].map(([kind, distanceM]) => `${kind}:${distanceM}`);
  return [mix.field.properties.id, ...distances.sort()].join(" ");
}

function effectOf({ order }: Mix, { downwindOnly, downwindRule }: Buffer): BufferEffect {
  if (!downwindOnly) return "keepsFree";
  return order.maySplit ? downwindRule : "stopsField";
}

/** Whether the label asks for the buffer with the droplets to be sprayed. */
function isInForce({ order, products }: Mix, { onlyFinerThan }: Buffer): boolean {
  if (onlyFinerThan === undefined) return true;
  const rank = (name: Buffer["onlyFinerThan"]) => (name === undefined ? 0 : dropletClasses.indexOf(name));
  const finestAllowed = Math.max(...products.map((product) => rank(product.dropletFinest)));
  const sprayed = order.dropletClass === undefined ? finestAllowed : rank(order.dropletClass);
  return sprayed < rank(onlyFinerThan);
}

function greatestDistances(mix: Mix, effect: BufferEffect): Map<string, number> {
  const greatestM = new Map<string, number>();
  for (const product of mix.products) {
    for (const buffer of product.buffers) {
      if (effectOf(mix, buffer) !== effect || !isInForce(mix, buffer)) continue;
      greatestM.set(buffer.kind, Math.max(greatestM.get(buffer.kind) ?? 0, buffer.distanceM));
    }
  }
  return greatestM;
}

function boxOf(geometry: SensitiveGeometry): { southWest: LonLat; northEast: LonLat } {
  const positions: readonly LonLat[] =
    geometry.type === "Point"
      ? [geometry.coordinates]
      : geometry.type === "LineString"
        ? geometry.coordinates
        : geometry.type === "Polygon"
          ? geometry.coordinates.flat()
          : geometry.coordinates.flat(2);
  const lonsDeg = positions.map(([lonDeg]) => lonDeg);
  const latsDeg = positions.map(([, latDeg]) => latDeg);
  return {
    southWest: [Math.min(...lonsDeg), Math.min(...latsDeg)],
    northEast: [Math.max(...lonsDeg), Math.max(...latsDeg)],
  };
}

interface BoxXY {
  readonly minXM: number;
  readonly maxXM: number;
  readonly minYM: number;
  readonly maxYM: number;
}

function cornersOf(points: readonly PointXY[]): BoxXY {
  const xs = points.map(([xM]) => xM);
  const ys = points.map(([, yM]) => yM);
  return { minXM: Math.min(...xs), maxXM: Math.max(...xs), minYM: Math.min(...ys), maxYM: Math.max(...ys) };
}

/** Between a box and another by its corners, whichever of them lies farther east. */
function gapM(box: BoxXY, a: PointXY, b: PointXY): number {
  const gapXM = Math.max(0, box.minXM - Math.max(a[0], b[0]), Math.min(a[0], b[0]) - box.maxXM);
  const gapYM = Math.max(0, box.minYM - Math.max(a[1], b[1]), Math.min(a[1], b[1]) - box.maxYM);
  return lengthOfM(gapXM, gapYM);
}
