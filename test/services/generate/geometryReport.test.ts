import { expect, test } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import type { FieldFeature } from "../../../shared/model/field.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { geometryReport } from "./geometryReport.ts";

/** The judge of the ground must see each fault, or its silence over good ground says nothing. */
const breaks: readonly [fault: RegExp, change: (operation: Operation) => void][] = [
  [/crosses itself/, ({ fields }) => swapCorners(plainField(fields.features))],
  [/not closed/, ({ fields }) => outerRing(plainField(fields.features)).pop()],
  [/the wrong way/, ({ fields }) => outerRing(plainField(fields.features)).reverse()],
  [/lies in the field/, ({ fields }) => movePad(plainField(fields.features), 0)],
  [/m from the field/, ({ fields }) => movePad(plainField(fields.features), 0.01)],
  [/overlaps/, ({ fields }) => fields.features.push({ ...plainField(fields.features) })],
  [/a hole lies outside/, ({ fields }) => shiftHole(fields.features, 0.1)],
  [/lies on/, ({ fields, settings }) => Object.assign(settings.bases[0]!, middleOf(plainField(fields.features)))],
];

test.each(breaks)("%s", (fault, change) => {
  const operation = generateOperation({ orders: 60, crews: 4, days: 3, seed: 9 });
  expect(geometryReport(operation).faults).toEqual([]);
  change(operation);
  expect(geometryReport(operation).faults.join("\n")).toMatch(fault);
});

function plainField(features: readonly FieldFeature[]): FieldFeature {
  return features.find(({ geometry }) => geometry.type === "Polygon" && geometry.coordinates[0]!.length > 8)!;
}

function outerRing({ geometry }: FieldFeature) {
  if (geometry.type !== "Polygon") throw new Error("a plain field was wanted");
  return geometry.coordinates[0]!;
}

function middleOf(feature: FieldFeature) {
  const ring = outerRing(feature).slice(1);
  const mean = (axis: 0 | 1) => ring.reduce((sum, position) => sum + position[axis], 0) / ring.length;
  return { lonDeg: mean(0), latDeg: mean(1) };
}

function swapCorners(feature: FieldFeature): void {
  const ring = outerRing(feature);
  [ring[2], ring[5]] = [ring[5]!, ring[2]!];
}

function movePad(feature: FieldFeature, offDeg: number): void {
  const { lonDeg, latDeg } = middleOf(feature);
  Object.assign(feature.properties.pads[0]!, { lonDeg: lonDeg + offDeg, latDeg });
}

function shiftHole(features: readonly FieldFeature[], offDeg: number): void {
  const { geometry } = features.find(
    ({ geometry: { type, coordinates } }) => type === "Polygon" && coordinates.length > 1,
  )!;
  if (geometry.type !== "Polygon") throw new Error("a plain field was wanted");
  for (const position of geometry.coordinates[1]!) position[0] += offDeg;
}
