import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { crewSheetSchema } from "../../../shared/contracts/views.ts";
import { documentDifference } from "../../../shared/model/documentDifference.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import { dayMap } from "../../../shared/plan/dayMap.ts";
import { hazardsBy } from "../../../shared/plan/hazards.ts";
import { hazardCaution, hazardRows } from "../../../shared/plan/hazardWords.ts";
import { usMeasures } from "../../../shared/plan/measures.ts";
import { crewSheetText } from "../../../shared/plan/text.ts";
import { weekMap } from "../../../shared/plan/weekMap.ts";
import { hazardousOperation, hazardsOfLongAcre, positionAt } from "../../support/hazards.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const date = "2027-03-26";
const operation = hazardousOperation();
const plan = viewPlan(operation);
const sheetOf = (of: typeof operation) => crewSheet(of, plan, "K1", date)!;
const stop = sheetOf(operation).stops[0]!;
const [wire, tree, mast] = stop.hazards as [(typeof stop.hazards)[number], ...typeof stop.hazards];
const pad = positionAt(3000, 1000);

/** The week is made for the views, and has faults of its own. */
function faultsOf(of: typeof operation) {
  const judged = validateOperation(of);
  return judged.ok ? [] : judged.faults;
}

/** On the ellipsoid, by GeographicLib (Karney 2013). */
function inverse(from: readonly number[], to: readonly number[]) {
  const { s12 = 0, azi1 = 0 } = geodesic.Geodesic.WGS84.Inverse(from[1]!, from[0]!, to[1]!, to[0]!);
  return { lengthM: s12, bearingDeg: (azi1 + 360) % 360 };
}

describe("hazards of a stop", () => {
  it("stand with what is nearest to the field first", () => {
    expect(faultsOf(operation)).toEqual(faultsOf(viewOperation()));
    expect(stop.hazards.map(({ kind }) => kind)).toEqual(["wire", "tree", "mast"]);
    expect(crewSheetSchema.parse(sheetOf(operation)).stops[0]!.hazards).toHaveLength(3);
  });

  it("are as far from the field and the pad, and in the direction, that GeographicLib has them", () => {
    expect(wire.fieldDistanceM).toBe(0);
    // The wire runs due west to east: what of it is nearest to the pad lies due north of it.
    const toWire = inverse(pad, positionAt(3000, 1300));
    expect(wire.padDistanceM).toBeCloseTo(toWire.lengthM, 1);
    expect(Math.min(wire.bearingDeg!, 360 - wire.bearingDeg!)).toBeLessThan(0.1);
    expect(wire.direction).toBe("north");
    for (const [one, place, edge, direction] of [
      [tree, positionAt(3300, 1440), positionAt(3300, 1400), "north-east"],
      [mast, positionAt(3700, 1000), positionAt(3600, 1000), "east"],
    ] as const) {
      const toPad = inverse(pad, place);
      expect(Math.abs(one!.padDistanceM - toPad.lengthM)).toBeLessThan(0.1);
      expect(Math.abs(one!.bearingDeg! - toPad.bearingDeg)).toBeLessThan(0.1);
      expect(Math.abs(one!.fieldDistanceM - inverse(edge, place).lengthM)).toBeLessThan(0.05);
      expect(one!.direction).toBe(direction);
    }
  });

  it("are those of the fields around it, too, each once, where they are near", () => {
    const [field, other] = operation.fields.features;
    const near = { ...hazardsOfLongAcre[0]!, kind: "turbine" as const };
    const far = { ...near, geometry: { type: "Point" as const, coordinates: positionAt(3600 + 501, 1200) } };
    const properties = { ...other!.properties, hazards: [near, far, hazardsOfLongAcre[1]!] };
    const features = [field!, { ...other!, properties }];
    const ids = hazardsBy({ ...operation, fields: { ...operation.fields, features } }, field!).map(({ id }) => id);
    expect(ids.sort()).toEqual(["F1/1", "F1/2", "F1/3", "F2/1"]);
  });

  it("in a hole of the outline stand in the field", () => {
    const hole = [
      [3290, 1190],
      [3290, 1210],
      [3310, 1210],
      [3310, 1190],
      [3290, 1190],
    ].map(([eastM, northM]) => positionAt(eastM!, northM!));
    const inHole = { kind: "mast" as const, geometry: { type: "Point" as const, coordinates: positionAt(3300, 1200) } };
    const of = hazardousOperation({ hazards: [inHole] });
    const [field] = of.fields.features;
    const rings = [...(field!.geometry.coordinates as never[]), hole as never];
    const features = [{ ...field!, geometry: { type: "Polygon" as const, coordinates: rings } }];
    const holed = { ...of, fields: { ...of.fields, features: [...features, of.fields.features[1]!] } };
    expect(faultsOf(holed)).toEqual(faultsOf(viewOperation()));
    expect(sheetOf(holed).stops[0]!.hazards[0]!.fieldDistanceM).toBe(0);
  });

  it("at the pad lie in no direction", () => {
    const atPad = { kind: "tree" as const, geometry: { type: "Point" as const, coordinates: pad } };
    const one = sheetOf(hazardousOperation({ hazards: [atPad] })).stops[0]!;
    expect(one.hazards[0]!.bearingDeg).toBeNull();
    expect(hazardRows(one)[0]![1]).toBe("in the field, at the pad");
  });
});

describe("the words of hazards", () => {
  const cautionOf = (properties: Parameters<typeof hazardousOperation>[0]) =>
    hazardCaution(sheetOf(hazardousOperation(properties)).stops[0]!, date);

  it("never let what is on file take the place of a look", () => {
    expect(hazardCaution(sheetOf(viewOperation()).stops[0]!, date)).toBe(
      "No hazards on file: survey on site before flying.",
    );
    expect(cautionOf({ hazards: hazardsOfLongAcre })).toBe(
      "No date of a survey on file: survey on site before flying.",
    );
    expect(cautionOf({ hazardsSurveyed: "2027-02-12" })).toBe(
      "None found on Fri 12 February. Look again before flying.",
    );
    expect(hazardCaution(stop, date)).toBe("Last surveyed on Fri 12 February. Look again before flying.");
    expect(cautionOf({ hazards: [], hazardsSurveyed: "2026-11-02" })).toBe(
      "None found on Mon 2 November 2026. Look again before flying.",
    );
  });

  it("tell kind, height and place, and round no height to less", () => {
    expect(hazardRows(stop)).toEqual([
      [
        "Wire, 11.2 m high",
        "over the field, 300 m north of the pad",
        "Low-voltage line, no markers: <keep> below & clear",
      ],
      ["Tree, height not known", "40 m from the field, 533 m north-east of the pad", "Ålder row"],
      ["Mast, 24 m high", "100 m from the field, 702 m east of the pad", ""],
    ]);
    // 11.2 m are 36.7 ft, 24 m are 78.7 ft.
    expect(hazardRows(stop, usMeasures).map(([name]) => name)).toEqual([
      "Wire, 37 ft high",
      "Tree, height not known",
      "Mast, 79 ft high",
    ]);
  });

  it("stand on the sheet before all else of the stop", () => {
    const text = crewSheetText(sheetOf(operation));
    expect(text).toMatch(
      /Stop 1: Long Acre.*\n {2}Hazards: Last surveyed on Fri 12 February\. Look again.*\n {4}Wire, /,
    );
    expect(text).toContain("    Mast, 24 m high         100 m from the field, 702 m east of the pad\n");
    for (const line of text.split("\n")) expect(line).toBe(line.trimEnd());
    expect(crewSheetText(sheetOf(viewOperation()))).toContain(
      "\n  Hazards: No hazards on file: survey on site before flying.\n",
    );
  });
});

describe("hazards on maps", () => {
  it("are those that the day's sheet names, and on the week's map all", () => {
    const named = new Set(sheetOf(operation).stops.flatMap(({ hazards }) => hazards.map(({ hazardId }) => hazardId)));
    const day = dayMap(operation, plan, "K1", date)!;
    expect(new Set(day.hazards.map(({ id }) => id))).toEqual(named);
    expect(day.hazards[1]).toMatchObject({ id: "F1/2", kind: "wire", heightM: 11.2 });
    expect(weekMap(operation, plan).hazards.map(({ id }) => id)).toEqual(["F1/1", "F1/2", "F1/3"]);
    expect(weekMap(viewOperation(), plan).hazards).toEqual([]);
  });
});

it("a hazard that is told, changed or surveyed anew changes its field, and no other", () => {
  const before = viewOperation();
  expect(documentDifference(before, operation)).toEqual([
    { name: "fields", added: [], removed: [], changed: ["F1"], same: 1 },
  ]);
  const anew = hazardousOperation({ hazards: hazardsOfLongAcre, hazardsSurveyed: "2027-03-20" });
  expect(documentDifference(operation, anew).map(({ changed }) => changed)).toEqual([["F1"]]);
});
