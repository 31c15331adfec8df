import { describe, expect, it } from "vitest";
import { compileProblem } from "../../../services/solver/compile.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { areaM2 } from "../../../shared/geo/area.ts";
import { calendarOf, rectangleField, smallOperation } from "../../support/operation.ts";

/** One order on a field of so many metres by 200 m, with a pad at its west end and perhaps another at the east end. */
function problemOf(widthM: number, hasEastPad: boolean, maySplit = true) {
  const west = rectangleField("F1", { eastM: 2000, northM: 0, widthM, heightM: 200 }, {});
  const [, east] = west.geometry.type === "Polygon" ? west.geometry.coordinates[0]! : [];
  const pads = [...west.properties.pads];
  if (hasEastPad) pads.push({ id: "P2", lonDeg: east![0]!, latDeg: east![1]! });
  const field = { ...west, properties: { ...west.properties, pads } };
  const plain = smallOperation({});
  const order = { ...plain.orders.find(({ carrierLPerHa }) => carrierLPerHa !== undefined)!, fieldId: "F1", maySplit };
  const operation = smallOperation({
    fields: { type: "FeatureCollection", features: [field] },
    orders: [order],
    // Long blocks, so that nothing else cuts.
    settings: { planning: { ...plain.settings.planning, blockMaxMin: 720 } },
  });
  return compileProblem(operation, calendarOf(operation), createAgronomy(operation, calendarOf(operation)));
}

describe("a long field with pads at both ends", () => {
  it("is worked in halves, each from its own pad, when that takes less with the move between them", () => {
    const { blocks } = problemOf(2400, true);
    expect(blocks).toHaveLength(2);
    const [west, east] = blocks.map(({ area }) => areaM2(area));
    expect(west! / east!).toBeCloseTo(1, 3);
  });

  it("stays whole with one pad, when it is short, and when it may not be split", () => {
    expect(problemOf(2400, false).blocks).toHaveLength(1);
    expect(problemOf(300, true).blocks).toHaveLength(1);
    expect(problemOf(2400, true, false).blocks).toHaveLength(1);
  });
});
