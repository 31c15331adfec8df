import type { LonLat } from "../../../../../shared/geo/plane.ts";
import type { AreaGeometry, Pad } from "../../../../../shared/model/field.ts";

/** A ring as it is drawn: its corners in turn, the first not said again at the end. */
export interface SketchRing {
  readonly kind: "outline" | "obstacle";
  readonly corners: readonly LonLat[];
}

/** What is being drawn; it need not be a field yet. */
export interface Sketch {
  readonly rings: readonly SketchRing[];
  readonly pads: readonly Pad[];
}

/** RFC 7946 asks for no more; 7 decimals are 11 mm. */
export const roundedDeg = (angleDeg: number): number => Math.round(angleDeg * 1e7) / 1e7;

export function sketchOf(geometry: AreaGeometry | null, pads: readonly Pad[]): Sketch {
  if (geometry === null) return { rings: [{ kind: "outline", corners: [] }], pads };
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  const rings = polygons.flatMap((polygon) =>
    polygon.map((ring, at): SketchRing => ({ kind: at === 0 ? "outline" : "obstacle", corners: opened(ring) })),
  );
  return { rings, pads };
}

export function opened(ring: readonly LonLat[]): LonLat[] {
  const [first, last] = [ring[0], ring.at(-1)];
  const isClosed = ring.length > 1 && first![0] === last![0] && first![1] === last![1];
  return (isClosed ? ring.slice(0, -1) : ring).map(([lonDeg, latDeg]) => [lonDeg, latDeg]);
}

function withRing(sketch: Sketch, ring: number, change: (corners: readonly LonLat[]) => readonly LonLat[]): Sketch {
  const rings = sketch.rings.map((one, at) => (at === ring ? { ...one, corners: change(one.corners) } : one));
  return { ...sketch, rings };
}

const rounded = ([lonDeg, latDeg]: LonLat): LonLat => [roundedDeg(lonDeg), roundedDeg(latDeg)];

/** `at`: which corner it becomes. */
export const addCorner = (sketch: Sketch, ring: number, at: number, position: LonLat): Sketch =>
  withRing(sketch, ring, (corners) => corners.toSpliced(at, 0, rounded(position)));
export const moveCorner = (sketch: Sketch, ring: number, corner: number, position: LonLat): Sketch =>
  withRing(sketch, ring, (corners) => corners.with(corner, rounded(position)));
export const removeCorner = (sketch: Sketch, ring: number, corner: number): Sketch =>
  withRing(sketch, ring, (corners) => corners.toSpliced(corner, 1));

export const addRing = (sketch: Sketch, kind: SketchRing["kind"]): Sketch => ({
  ...sketch,
  rings: [...sketch.rings, { kind, corners: [] }],
});
/** An outline is always there to draw on. */
export function removeRing(sketch: Sketch, ring: number): Sketch {
  const rings = sketch.rings.toSpliced(ring, 1);
  return rings.length === 0 ? { ...sketch, rings: [{ kind: "outline", corners: [] }] } : { ...sketch, rings };
}

export function addPad(sketch: Sketch, [lonDeg, latDeg]: LonLat): Sketch {
  const taken = new Set<string>(sketch.pads.map(({ id }) => id));
  let number = 1;
  while (taken.has(`P${number}`)) number++;
  const pad = { id: `P${number}` as Pad["id"], latDeg: roundedDeg(latDeg), lonDeg: roundedDeg(lonDeg) };
  return { ...sketch, pads: [...sketch.pads, pad] };
}
export const movePad = (sketch: Sketch, at: number, [lonDeg, latDeg]: LonLat): Sketch => ({
  ...sketch,
  pads: sketch.pads.with(at, { ...sketch.pads[at]!, latDeg: roundedDeg(latDeg), lonDeg: roundedDeg(lonDeg) }),
});
export const removePad = (sketch: Sketch, at: number): Sketch => ({ ...sketch, pads: sketch.pads.toSpliced(at, 1) });

/** Where a corner that nobody has placed yet begins: between its neighbours, or where the eye is. */
export function placeOfNew(corners: readonly LonLat[], at: number, otherwise: LonLat): LonLat {
  const [before, after] = [corners[at - 1] ?? corners.at(-1), corners[at] ?? corners[0]];
  if (before === undefined || after === undefined) return otherwise;
  if (corners.length === 1) return [before[0] + newCornerDeg, before[1]];
  if (corners.length === 2) return [(before[0] + after[0]) / 2, (before[1] + after[1]) / 2 + newCornerDeg];
  return [(before[0] + after[0]) / 2, (before[1] + after[1]) / 2];
}
/** About a hundred metres: far enough to be seen, near enough to be meant. */
const newCornerDeg = 0.001;
