import type { LonLat } from "../../../shared/geo/plane.ts";
import type { DayMap } from "../../../shared/plan/dayMap.ts";
import { positionsOf } from "../../../shared/plan/mapPlaces.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import type { Paper } from "../page/paper.ts";
import { drawHazards, hazardKey, signsBeside } from "./hazardSigns.ts";
import { heightFor, Sketch } from "./sketch.ts";

/** Nearer together than this passes would be one black patch. */
const passesApartPt = 1.6;

/** The whole day: route, fields with the numbers of their stops, pads, neighbours. */
export function dayMapSketch(paper: Paper, map: DayMap, measures: Measures, mostPt: number): void {
  const positions = [
    ...map.fields.flatMap(({ geometry }) => positionsOf(geometry)),
    ...map.places.map(({ at }) => at),
    ...map.route.flatMap(({ line }) => line),
  ];
  const heightPt = heightFor(positions, paper.widthPt, mostPt);
  const frame = { xPt: paper.leftPt, yPt: paper.yPt, widthPt: paper.widthPt, heightPt };
  const sketch = new Sketch(paper, frame, positions);
  sketch.draw(() => {
    for (const { geometry, radiusM } of map.sensitive) sketch.hatch(geometry, radiusM);
    for (const { geometry } of map.stops) sketch.shade(geometry);
    for (const { geometry } of map.fields) sketch.outline(geometry, 1);
    for (const { line } of map.route) sketch.path(line, { widthPt: 0.8, dashPt: 3, arrow: true });
    const places = map.places.filter(({ kind }) => kind !== "pad");
    for (const { at, kind } of map.places) {
      if (kind === "pad") sketch.pad(at);
      else sketch.place(at, kind);
    }
    drawHazards(paper, sketch, map.hazards, null);
    for (const { name, at } of places) sketch.label(at, name, { bold: true });
    for (const { fieldId, geometry, name } of map.fields) {
      const numbers = map.stops.filter((stop) => stop.fieldId === fieldId).map(({ number }) => number);
      sketch.label(middleOf(positionsOf(geometry)), `${spans(numbers)} ${name}`, { bold: true, sizePt: 7.5 });
    }
    for (const { geometry, name } of map.sensitive) sketch.label(middleOf(positionsOf(geometry)), name, { sizePt: 6 });
    sketch.furniture(measures);
  });
  paper.yPt += heightPt + 3;
  paper.text(
    "Shaded: ground to be treated, with the numbers of its stops. Hatched, or a thick grey line: sensitive places. Crossed square: pad. Black square: base. " +
      `Ring with a dot: water. Dashed: from place to place in a straight line; the roads are yours to choose.${map.hazards.length > 0 ? ` ${hazardKey}` : ""}`,
    { sizePt: 7 },
  );
}

/** One field: the passes of one stop or of several in a row, their heading, the pad and what lies round it. */
export function fieldSketch(
  paper: Paper,
  map: DayMap,
  numbers: readonly number[],
  measures: Measures,
  heightPt: number,
): void {
  const stops = map.stops.filter(({ number }) => numbers.includes(number));
  const field = map.fields.find(({ fieldId }) => fieldId === stops[0]?.fieldId);
  if (field === undefined) return;
  const frame = { xPt: paper.leftPt, yPt: paper.yPt, widthPt: paper.widthPt, heightPt };
  const ground = [...positionsOf(field.geometry), ...stops.map(({ pad }) => pad)];
  const sketch = new Sketch(paper, frame, [...ground, ...signsBeside(map.hazards, ground)]);
  sketch.draw(() => {
    for (const { geometry, radiusM } of map.sensitive) sketch.hatch(geometry, radiusM);
    for (const stop of stops) {
      const every = passStep(sketch, stop.passes);
      stop.passes.forEach((line, at) => {
        if (at % every === 0) sketch.path(line, { widthPt: 0.35 });
      });
      sketch.outline(stop.geometry, 0.6);
      const [first] = stop.passes;
      if (first) {
        sketch.path(first, { widthPt: 1.2, arrow: true });
        sketch.label(first[0]!, stops.length === 1 ? "begin" : `begin ${stop.number}`, { bold: true });
      }
    }
    sketch.outline(field.geometry, 1.4);
    for (const pad of new Map(stops.map(({ padId, pad }) => [padId, pad]))) {
      sketch.pad(pad[1]);
      sketch.label(pad[1], `pad ${pad[0]}`, { bold: true });
    }
    drawHazards(paper, sketch, map.hazards, measures);
    for (const { geometry, name } of map.sensitive)
      sketch.label(nearestTo(stops[0]!.pad, positionsOf(geometry)), name, { sizePt: 6.5 });
    sketch.furniture(measures);
  });
  paper.yPt += heightPt + 4;
}

/** Draw every so manieth pass. */
function passStep(sketch: Sketch, passes: readonly (readonly LonLat[])[]): number {
  const [one, next] = [passes[0], passes[1]];
  if (!one || !next) return 1;
  const [a, b] = [sketch.at(one[0]!), sketch.at(one[1]!)];
  const c = sketch.at(next[0]!);
  const lengthPt = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const apartPt = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / lengthPt;
  return apartPt === 0 ? 1 : Math.max(1, Math.ceil(passesApartPt / apartPt));
}

function middleOf(positions: readonly LonLat[]): LonLat {
  const mean = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2;
  return [mean(positions.map(([lonDeg]) => lonDeg)), mean(positions.map(([, latDeg]) => latDeg))];
}

function nearestTo([lonDeg, latDeg]: LonLat, positions: readonly LonLat[]): LonLat {
  const away = (one: LonLat) => (one[0] - lonDeg) ** 2 + (one[1] - latDeg) ** 2;
  return positions.reduce((best, one) => (away(one) < away(best) ? one : best));
}

/** `1`, `1-3`, `1, 4`. */
function spans(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(", ");
}
