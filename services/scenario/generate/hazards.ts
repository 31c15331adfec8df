import { nearestOnShape } from "../../../shared/geo/distance.ts";
import type { PointXY, Ring } from "../../../shared/geo/plane.ts";
import { addDays } from "../../../shared/model/calendar.ts";
import type { FieldDraft, FieldPropertiesDraft } from "./draft.ts";
import type { FieldShape } from "./fieldShapes.ts";
import type { ToPosition } from "./geojson.ts";
import type { Land } from "./land.ts";
import type { Random } from "./random.ts";

type HazardDraft = NonNullable<FieldPropertiesDraft["hazards"]>[number];
type Place = readonly PointXY[];

interface Made {
  readonly kind: HazardDraft["kind"];
  readonly heightM: readonly [least: number, most: number];
  readonly notes: readonly string[];
}

/** Heights: common practice, no source. */
const wires: readonly Made[] = [
  { kind: "wire", heightM: [7, 9], notes: ["low-voltage line on wooden poles", "telephone wire along the track"] },
  { kind: "wire", heightM: [10, 14], notes: ["medium-voltage line, hard to see against the hill"] },
  { kind: "wire", heightM: [24, 36], notes: ["high-voltage line, balls on its top wire"] },
];
const rows: readonly Made[] = [{ kind: "tree", heightM: [14, 24], notes: ["windbreak of poplars"] }];
const points: readonly Made[] = [
  { kind: "mast", heightM: [18, 45], notes: ["radio mast, guy wires to three sides", "mast of an old hail cannon"] },
  { kind: "tree", heightM: [8, 18], notes: ["lone holm oak", "dead pine, top broken off"] },
  { kind: "building", heightM: [4, 10], notes: ["pump house, wire to the pole beside it", "barn"] },
  { kind: "turbine", heightM: [22, 30], notes: ["small wind turbine of the farm"] },
  { kind: "other", heightM: [3, 6], notes: ["parked irrigation boom", "bale stack, comes and goes"] },
];

/** Shares of fields, our choice. */
const surveyedFrac = 0.85;
const cleanFrac = 0.45;
const heightKnownFrac = 0.8;
const inHoleFrac = 0.7;
/** Nobody lands beside a mast. */
const clearOfPadsM = 25;

/** The fields with what stands in and around them: most were surveyed in the last months, a few have nothing on file. */
export function withHazards(
  random: Random,
  fields: readonly FieldDraft[],
  firstDay: string,
  { laid, toPosition }: Pick<Land, "laid" | "toPosition">,
): FieldDraft[] {
  return fields.map((field, index) => {
    const own = random.topic(field.properties.id);
    if (!own.chance(surveyedFrac)) return field;
    const hazardsSurveyed = addDays(firstDay, -own.whole(5, 160));
    const hazards = own.chance(cleanFrac) ? [] : hazardsOf(own, laid.shapes[index]!, toPosition);
    const found = hazards.length === 0 ? {} : { hazards };
    return { ...field, properties: { ...field.properties, ...found, hazardsSurveyed } };
  });
}

function hazardsOf(random: Random, shape: FieldShape, toPosition: ToPosition): HazardDraft[] {
  const inHoles = shape.polygons
    .flatMap(({ holes }) => holes)
    .filter(() => random.chance(inHoleFrac))
    .map((hole) => ({ made: random.pick(points.slice(0, 2)), place: [middleOf(hole)] }));
  const around = Array.from({ length: random.whole(1, 3) }, () => {
    const drawn = random.unit();
    if (drawn < 0.15) return { made: random.pick(wires), place: acrossField(random, shape) };
    if (drawn < 0.5) return { made: random.pick(wires), place: alongSide(random, shape, random.between(8, 30)) };
    if (drawn < 0.6) return { made: random.pick(rows), place: alongSide(random, shape, random.between(10, 20)) };
    return { made: random.pick(points), place: besideField(random, shape) };
  });
  return [...inHoles, ...around]
    .filter(({ place }) => clearM(place, shape.pads) > clearOfPadsM)
    .map(({ made, place }) => hazardDraft(random, made, place, toPosition));
}

function hazardDraft(
  random: Random,
  { heightM, kind, notes }: Made,
  place: Place,
  toPosition: ToPosition,
): HazardDraft {
  const [first, ...others] = place.map(toPosition);
  return {
    kind,
    geometry:
      others.length === 0
        ? { type: "Point", coordinates: first! }
        : { type: "LineString", coordinates: [first!, ...others] },
    ...(random.chance(heightKnownFrac) && { heightM: random.whole(...heightM) }),
    note: random.pick(notes),
  };
}

/** From end to end over the ground, as no field's outline tells. */
function acrossField(random: Random, { centre, radiusM }: FieldShape): Place {
  const angleRad = random.between(0, Math.PI);
  const offM = random.between(-0.4, 0.4) * radiusM;
  const lengthM = radiusM + random.between(20, 60);
  const [cos, sin] = [Math.cos(angleRad), Math.sin(angleRad)];
  return [-lengthM, lengthM].map(
    (alongM): PointXY => [centre[0] + alongM * cos - offM * sin, centre[1] + alongM * sin + offM * cos],
  );
}

/** Beside a side of the field and beyond both of its ends. */
function alongSide(random: Random, shape: FieldShape, offM: number): Place {
  const { from, out, to, way } = sideOf(random, shape);
  const beyondM = random.between(20, 90);
  return [
    [from[0] - beyondM * way[0] + offM * out[0], from[1] - beyondM * way[1] + offM * out[1]],
    [to[0] + beyondM * way[0] + offM * out[0], to[1] + beyondM * way[1] + offM * out[1]],
  ];
}

function besideField(random: Random, shape: FieldShape): Place {
  const { from, out, to } = sideOf(random, shape);
  const share = random.between(0.1, 0.9);
  const offM = random.between(5, 70);
  return [[from[0] + share * (to[0] - from[0]) + offM * out[0], from[1] + share * (to[1] - from[1]) + offM * out[1]]];
}

/** A side of the field with the directions along it and out of the field: outer rings run counterclockwise. */
function sideOf(random: Random, shape: FieldShape) {
  const { outer } = random.pick(shape.polygons);
  const side = random.whole(0, outer.length - 1);
  const [from, to] = [outer[side]!, outer[(side + 1) % outer.length]!];
  const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const way = [(to[0] - from[0]) / lengthM, (to[1] - from[1]) / lengthM] as const;
  return { from, to, way, out: [way[1], -way[0]] as const };
}

function middleOf(ring: Ring): PointXY {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return [mean(ring.map(([x]) => x)), mean(ring.map(([, y]) => y))];
}

function clearM(place: Place, pads: readonly PointXY[]): number {
  const [first] = place;
  const shape =
    place.length === 1 ? ({ kind: "point", point: first! } as const) : ({ kind: "line", points: place } as const);
  return Math.min(...pads.map((pad) => nearestOnShape(pad, shape).distanceM));
}
