import type { LonLat } from "../../../shared/geo/plane.ts";
import { hazardOutlines } from "../../../shared/plan/hazardOutlines.ts";
import type { HazardOnMap } from "../../../shared/plan/hazards.ts";
import { hazardKindWords } from "../../../shared/plan/hazardWords.ts";
import { boundsOf } from "../../../shared/plan/mapPlaces.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import type { Paper } from "../page/paper.ts";
import type { Sketch } from "./sketch.ts";

const signPt = 9;
/** Of the white circle. */
const reachPt = 5.8;
/** Our choice: what stands farther out than this share of the field's width and height does not make the field's sketch smaller. */
const beyondFrac = 0.3;
/** Crosses along a wire: near enough that a short piece of it has one, too. */
const crossesApartPt = 9;
const crossPt = 1.8;

/** Told under a sketch that shows some. */
export const hazardKey = "Line with crosses: wire or other hazard along a line. Signs in white circles: hazards.";

/** Hazards on a sketch of the ground; with measures, kind and height beside each where there is room. */
export function drawHazards(
  paper: Paper,
  sketch: Sketch,
  hazards: readonly HazardOnMap[],
  measures: Measures | null,
): void {
  for (const { geometry, heightM, kind } of hazards) {
    if (geometry.type === "LineString") crossedLine(paper, sketch, geometry.coordinates);
    const place = signAt(geometry);
    sign(paper, sketch, place, kind);
    if (measures === null) continue;
    const height = heightM === null ? "" : ` ${measures.keep(heightM)}`;
    sketch.label(place, `${hazardKindWords[kind]}${height}`, { sizePt: 6.5, bold: true });
  }
}

/** Signs that a sketch of these positions has room for beside them. */
export function signsBeside(hazards: readonly HazardOnMap[], positions: readonly LonLat[]): LonLat[] {
  const [west, south, east, north] = boundsOf(positions);
  const [lonSlackDeg, latSlackDeg] = [(east - west) * beyondFrac, (north - south) * beyondFrac];
  return hazards
    .map(({ geometry }) => signAt(geometry))
    .filter(
      ([lonDeg, latDeg]) =>
        lonDeg > west - lonSlackDeg &&
        lonDeg < east + lonSlackDeg &&
        latDeg > south - latSlackDeg &&
        latDeg < north + latSlackDeg,
    );
}

function signAt(geometry: HazardOnMap["geometry"]): LonLat {
  if (geometry.type === "Point") return geometry.coordinates;
  const [from, to] = geometry.coordinates.slice(Math.max(0, Math.floor(geometry.coordinates.length / 2) - 1));
  return [(from![0] + to![0]) / 2, (from![1] + to![1]) / 2];
}

function crossedLine({ doc }: Paper, sketch: Sketch, line: readonly LonLat[]): void {
  sketch.path(line, { widthPt: 0.9 });
  const points = line.map((position) => sketch.at(position));
  doc.lineWidth(0.7);
  for (const [index, to] of points.slice(1).entries()) {
    const from = points[index]!;
    const count = Math.max(1, Math.floor(Math.hypot(to[0] - from[0], to[1] - from[1]) / crossesApartPt));
    for (let cross = 0; cross < count; cross++) {
      const share = (cross + 0.5) / count;
      const [x, y] = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
      doc.moveTo(x - crossPt, y - crossPt).lineTo(x + crossPt, y + crossPt);
      doc.moveTo(x - crossPt, y + crossPt).lineTo(x + crossPt, y - crossPt);
    }
  }
  doc.stroke("black");
}

function sign({ doc }: Paper, sketch: Sketch, place: LonLat, kind: HazardOnMap["kind"]): void {
  const [x, y] = sketch.at(place);
  doc.circle(x, y, reachPt).lineWidth(0.5).fillAndStroke("white", "black");
  doc
    .save()
    .translate(x - signPt / 2, y - signPt / 2)
    .scale(signPt / 24)
    .path(hazardOutlines[kind])
    .lineWidth(2.4)
    .stroke("black")
    .restore();
  doc.fillColor("black");
  sketch.keepFree(place, reachPt);
}
