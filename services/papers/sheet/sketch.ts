import { type AreaLike, type GeometryLike, toAreaXY, toShapeXY } from "../../../shared/geo/convert.ts";
import { createPlane, type LonLat, type Plane, type PointXY } from "../../../shared/geo/plane.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import type { UnitSystem } from "../../../shared/units/units.ts";
import { ftFromM, milesFromKm } from "../../../shared/units/units.ts";
import type { Paper } from "../page/paper.ts";

export interface Frame {
  readonly xPt: number;
  readonly yPt: number;
  readonly widthPt: number;
  readonly heightPt: number;
}

/** Left free along the edge. */
const edgePt = 14;

/** Our choice: lower, and signs cover each other. */
const leastHeightPt = 150;

/** As high as a map of the width needs to be, so that no paper is wasted. */
export function heightFor(positions: readonly LonLat[], widthPt: number, mostPt: number): number {
  const plane = createPlane(positions[0]![0], positions[0]![1]);
  const points = positions.map((position) => plane.toXY(position));
  const span = (of: readonly number[]) => Math.max(...of) - Math.min(...of);
  const eastM = Math.max(1, span(points.map(([x]) => x)));
  const wantedPt = (span(points.map(([, y]) => y)) * (widthPt - 2 * edgePt)) / eastM + 4 * edgePt;
  return Math.min(mostPt, Math.max(leastHeightPt, wantedPt));
}

/** A map to scale, north up, in a frame. Everything is told by line, hatch and sign, nothing by colour. */
export class Sketch {
  readonly #paper: Paper;
  readonly #frame: Frame;
  readonly #plane: Plane;
  readonly ptPerM: number;
  readonly #middle: PointXY;
  /** Where words stand already. */
  readonly #taken: { readonly x: number; readonly y: number; readonly w: number; readonly h: number }[] = [];

  constructor(paper: Paper, frame: Frame, positions: readonly LonLat[]) {
    this.#paper = paper;
    this.#frame = frame;
    this.#plane = createPlane(positions[0]![0], positions[0]![1]);
    const points = positions.map((position) => this.#plane.toXY(position));
    const xs = points.map(([x]) => x);
    const ys = points.map(([, y]) => y);
    const [west, east, south, north] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    this.#middle = [(west + east) / 2, (south + north) / 2];
    const spanM = (from: number, to: number) => Math.max(to - from, 50);
    this.ptPerM = Math.min(
      (frame.widthPt - 2 * edgePt) / spanM(west, east),
      (frame.heightPt - 2 * edgePt) / spanM(south, north),
    );
  }

  /** All drawing stays within the frame. */
  draw(within: () => void): void {
    const { doc } = this.#paper;
    const { xPt, yPt, widthPt, heightPt } = this.#frame;
    doc.save();
    doc.rect(xPt, yPt, widthPt, heightPt).clip();
    within();
    doc.restore();
    doc.lineWidth(0.8).strokeColor("black").rect(xPt, yPt, widthPt, heightPt).stroke();
  }

  at(position: LonLat): PointXY {
    return this.#at(this.#plane.toXY(position));
  }

  #at([x, y]: PointXY): PointXY {
    const { xPt, yPt, widthPt, heightPt } = this.#frame;
    return [
      xPt + widthPt / 2 + (x - this.#middle[0]) * this.ptPerM,
      yPt + heightPt / 2 - (y - this.#middle[1]) * this.ptPerM,
    ];
  }

  #trace(geometry: AreaLike): PDFKit.PDFDocument {
    const { doc } = this.#paper;
    for (const ring of toAreaXY(this.#plane, geometry).flat()) {
      ring.forEach((point, at) => {
        const [x, y] = this.#at(point);
        if (at === 0) doc.moveTo(x, y);
        else doc.lineTo(x, y);
      });
      doc.closePath();
    }
    return doc;
  }

  outline(geometry: AreaLike, widthPt: number): void {
    this.#trace(geometry).lineWidth(widthPt).strokeColor("black").stroke();
  }

  shade(geometry: AreaLike): void {
    this.#trace(geometry).fillColor("#dddddd").fill("even-odd");
    this.#paper.doc.fillColor("black");
  }

  /** A sensitive place: hatched and framed; of a point its reach, at least a sign's size. */
  hatch(geometry: GeometryLike, radiusM: number): void {
    const { doc } = this.#paper;
    const shape = toShapeXY(this.#plane, geometry);
    if (shape.kind === "line") {
      shape.points.forEach((point, at) => {
        const [x, y] = this.#at(point);
        if (at === 0) doc.moveTo(x, y);
        else doc.lineTo(x, y);
      });
      doc.lineWidth(2.4).strokeColor("#888888").stroke().strokeColor("black");
      return;
    }
    doc.save();
    if (shape.kind === "point") {
      const [x, y] = this.#at(shape.point);
      const reachPt = Math.max(4, radiusM * this.ptPerM);
      doc.circle(x, y, reachPt).lineWidth(0.8).strokeColor("black").stroke();
      doc.circle(x, y, reachPt).clip();
    } else {
      this.#trace(geometry as AreaLike)
        .lineWidth(0.8)
        .strokeColor("black")
        .stroke();
      this.#trace(geometry as AreaLike).clip("even-odd");
    }
    const { xPt, yPt, widthPt, heightPt } = this.#frame;
    doc.lineWidth(0.4);
    for (let c = -heightPt; c < widthPt; c += 3) {
      doc.moveTo(xPt + c, yPt + heightPt).lineTo(xPt + c + heightPt, yPt);
    }
    doc.stroke().restore();
  }

  path(
    line: readonly LonLat[],
    { widthPt, dashPt, arrow = false }: { widthPt: number; dashPt?: number; arrow?: boolean },
  ): void {
    const { doc } = this.#paper;
    const points = line.map((position) => this.at(position));
    points.forEach(([x, y], at) => {
      if (at === 0) doc.moveTo(x, y);
      else doc.lineTo(x, y);
    });
    doc.lineWidth(widthPt).strokeColor("black");
    if (dashPt === undefined) doc.undash().stroke();
    else doc.dash(dashPt, { space: dashPt }).stroke().undash();
    const [from, to] = points.slice(-2);
    if (arrow && from && to) this.#arrowHead(from, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  }

  #arrowHead(from: PointXY, tip: PointXY): void {
    const lengthPt = Math.hypot(tip[0] - from[0], tip[1] - from[1]);
    if (lengthPt < 5) return;
    const [ux, uy] = [(tip[0] - from[0]) / lengthPt, (tip[1] - from[1]) / lengthPt];
    const back: PointXY = [tip[0] - 5 * ux, tip[1] - 5 * uy];
    this.#paper.doc
      .polygon([tip[0], tip[1]], [back[0] - 2.2 * uy, back[1] + 2.2 * ux], [back[0] + 2.2 * uy, back[1] - 2.2 * ux])
      .fill("black");
  }

  /** A pad: a white square with a cross, as on the ground. */
  pad(position: LonLat): void {
    const [x, y] = this.at(position);
    const { doc } = this.#paper;
    doc
      .lineWidth(0.9)
      .rect(x - 3.5, y - 3.5, 7, 7)
      .fillAndStroke("white", "black");
    doc
      .moveTo(x - 3.5, y - 3.5)
      .lineTo(x + 3.5, y + 3.5)
      .moveTo(x + 3.5, y - 3.5)
      .lineTo(x - 3.5, y + 3.5)
      .stroke();
    this.#taken.push({ x: x - 4, y: y - 4, w: 8, h: 8 });
    doc.fillColor("black");
  }

  /** A base is a filled square, water a ring with a dot. */
  place(position: LonLat, kind: "base" | "water"): void {
    const [x, y] = this.at(position);
    const { doc } = this.#paper;
    if (kind === "base") doc.rect(x - 4, y - 4, 8, 8).fill("black");
    else {
      doc.circle(x, y, 4).lineWidth(1).fillAndStroke("white", "black");
      doc.circle(x, y, 1.3).fill("black");
    }
    this.#taken.push({ x: x - 4, y: y - 4, w: 8, h: 8 });
  }

  /** No words are written over what stands around the place. */
  keepFree(position: LonLat, reachPt: number): void {
    const [x, y] = this.at(position);
    this.#taken.push({ x: x - reachPt, y: y - reachPt, w: 2 * reachPt, h: 2 * reachPt });
  }

  /** Words beside a place, where there is room; left out where there is none. */
  label(position: LonLat, words: string, { bold = false, sizePt = 7 }: { bold?: boolean; sizePt?: number } = {}): void {
    const paper = this.#paper;
    const [x, y] = this.at(position);
    const style = { bold, sizePt };
    const told = paper.cut(words, 120, style);
    const [w, h] = [paper.widthOf(told, style), sizePt * 1.15];
    const { xPt, yPt, widthPt, heightPt } = this.#frame;
    const places = [
      [x + 7, y - h / 2],
      [x - w / 2, y - h - 6],
      [x - w / 2, y + 6],
      [x - w - 7, y - h / 2],
      [x + 7, y - h - 6],
      [x + 7, y + 6],
      [x - w - 7, y - h - 6],
      [x - w - 7, y + 6],
    ] as const;
    const isFree = ([left, top]: readonly [number, number]) =>
      left > xPt + 2 &&
      top > yPt + 2 &&
      left + w < xPt + widthPt - 2 &&
      top + h < yPt + heightPt - 2 &&
      this.#taken.every((box) => left > box.x + box.w || left + w < box.x || top > box.y + box.h || top + h < box.y);
    const place = places.find(isFree);
    if (place === undefined) return;
    const [left, top] = place;
    paper.doc
      .save()
      .fillOpacity(0.75)
      .rect(left - 1, top - 1, w + 2, h + 1)
      .fill("white")
      .restore();
    paper.doc.fillColor("black");
    paper.use(style).text(told, left, top, { lineBreak: false });
    this.#taken.push({ x: left - 1, y: top - 1, w: w + 2, h: h + 1 });
  }

  /** North arrow and scale bar, in the lower corners. */
  furniture({ system }: Measures): void {
    const { doc } = this.#paper;
    const { xPt, yPt, widthPt, heightPt } = this.#frame;
    const [x, y] = [xPt + widthPt - 12, yPt + heightPt - 24];
    doc
      .save()
      .rect(x - 9, y - 14, 18, 34)
      .fill("white")
      .restore();
    doc.polygon([x, y - 12], [x - 4, y + 4], [x, y + 1], [x + 4, y + 4]).fill("black");
    this.#paper.wordsAt("N", x - 6, y + 7, { bold: true, sizePt: 8, widthPt: 12, align: "center" });
    const bar = scaleBar(90 / this.ptPerM, system);
    const barPt = bar.lengthM * this.ptPerM;
    const [left, base] = [xPt + 8, yPt + heightPt - 8];
    doc
      .save()
      .rect(left - 4, base - 16, barPt + 8, 22)
      .fill("white")
      .restore();
    doc
      .lineWidth(1)
      .moveTo(left, base - 4)
      .lineTo(left, base)
      .lineTo(left + barPt, base)
      .lineTo(left + barPt, base - 4)
      .stroke("black");
    this.#paper.wordsAt(bar.words, left, base - 14, { sizePt: 7, widthPt: Math.max(40, barPt) });
    doc.fillColor("black");
  }
}

/** The longest bar of 1, 2 or 5 with noughts, in the units of the reader, that is not longer. */
function scaleBar(mostM: number, system: UnitSystem): { readonly lengthM: number; readonly words: string } {
  const [small, large] = system === "us" ? (["ft", "mi"] as const) : (["m", "km"] as const);
  const smallPerM = system === "us" ? ftFromM(1) : 1;
  const largePerM = system === "us" ? milesFromKm(1 / 1000) : 1 / 1000;
  const [unit, perM] = mostM * largePerM >= 1 ? ([large, largePerM] as const) : ([small, smallPerM] as const);
  const length = roundDown(mostM * perM);
  return { lengthM: length / perM, words: `${length} ${unit}` };
}

function roundDown(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  return [5, 2, 1].map((digit) => digit * power).find((length) => length <= most) ?? power;
}
