import { describe, expect, it } from "vitest";
import { dayBounds, dayItems } from "../../../../services/web/app/map/dayItems.ts";
import { fieldsFound } from "../../../../services/web/app/map/fieldsFound.ts";
import { isSeenAt } from "../../../../services/web/app/map/items.ts";
import { fieldBounds, nearField } from "../../../../services/web/app/map/nearField.ts";
import { nextOrderOf, orderItems, weekItems } from "../../../../services/web/app/map/weekItems.ts";
import { dayMap } from "../../../../shared/plan/dayMap.ts";
import { weekMap } from "../../../../shared/plan/weekMap.ts";
import { hazardousOperation, hazardsOfLongAcre } from "../../../support/hazards.ts";
import { viewPlan } from "../../../support/viewPlan.ts";

const units = {
  system: "metric" as const,
  areaHa: (area: number) => `${area.toFixed(1)} ha`,
  roadKm: (length: number) => `${length} km`,
  lengthM: (length: number) => `${length.toFixed(0)} m`,
};
const operation = hazardousOperation();
const plan = viewPlan(operation);
const week = weekMap(operation, plan);
const [first] = plan.crewDays;
const day = dayMap(operation, plan, first!.crewId, first!.date)!;

describe("what the week's map draws", () => {
  it("is every field by what becomes of it, each sensitive area by its kind, bases and water", () => {
    const { areas, lines, points } = weekItems(week, null, units);
    expect(areas.filter(({ id }) => id.startsWith("field ")).map(({ look }) => look)).toEqual(
      week.fields.map(({ status }) => status),
    );
    expect(points.filter(({ id }) => id.startsWith("sign ")).map(({ look }) => look)).toEqual(
      operation.sensitive.features.map(({ properties }) => properties.kind),
    );
    const places = [...operation.settings.bases, ...operation.settings.waterPoints].map(({ name }) => name);
    expect(points.filter(({ id }) => id.startsWith("place ")).map(({ title }) => title)).toEqual(places);
    expect([...areas, ...lines, ...points].some(({ isFaded }) => isFaded)).toBe(false);
    const ids = [...areas, ...lines, ...points].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("is, with a crew-day, its route, numbers and passes, and the rest faded", () => {
    const { areas, lines, points } = weekItems(week, day, units);
    const ofDay = new Set<string>(day.fields.map(({ fieldId }) => `field ${fieldId}`));
    for (const { id, isFaded } of areas.filter((area) => area.id.startsWith("field "))) {
      expect([id, isFaded]).toEqual([id, !ofDay.has(id)]);
    }
    expect(lines.filter(({ look }) => look === "road").map(({ positions }) => positions)).toEqual(
      day.route.map(({ line }) => line),
    );
    expect(lines.filter(({ look }) => look === "pass")).toHaveLength(day.stops.flatMap(({ passes }) => passes).length);
    const numbers = points.flatMap(({ text }) => text?.split(" ").map(Number) ?? []);
    expect(numbers.sort()).toEqual(day.stops.map(({ number }) => number));
  });

  it("marks the field of the chosen order, and another click goes to its next order", () => {
    const field = week.fields.find(({ orders }) => orders.length > 0)!;
    const { areas } = orderItems(week, field.orders[0]!, [], units);
    expect(areas.filter(({ isChosen }) => isChosen).map(({ id }) => id)).toEqual([`field ${field.fieldId}`]);
    expect(nextOrderOf(["A", "B"], null)).toBe("A");
    expect(nextOrderOf(["A", "B"], "A")).toBe("B");
    expect(nextOrderOf(["A", "B"], "B")).toBe("A");
    expect(nextOrderOf(["A", "B"], "of another field")).toBe("A");
    expect(nextOrderOf([], null)).toBeNull();
  });
});

describe("what a chosen order draws", () => {
  const [stop] = day.stops;

  it("is its own passes alone, in the order flown, with the first and the last told", () => {
    const { lines, points } = orderItems(week, stop!.orderId, [day], units);
    const stops = day.stops.filter(({ orderId }) => orderId === stop!.orderId);
    const passes = lines.filter(({ look }) => look === "pass");
    expect(passes.map(({ positions }) => positions)).toEqual(stops.flatMap((one) => one.passes));
    const ends = stops.flatMap((one) => (one.passes.length > 1 ? ["start", "end"] : ["start"]));
    expect(passes.flatMap(({ label }) => label?.at ?? [])).toEqual(ends);
    expect(points.filter(({ look }) => look === "pad").map(({ at }) => at)).toEqual(stops.map(({ pad }) => pad));
  });

  it("at every scale shows either the passes or the heading that stands for them", () => {
    const lines = orderItems(week, stop!.orderId, [day], units).lines.filter(
      ({ id }) => id.endsWith(` ${stop!.blockId}`) || id.startsWith(`pass ${stop!.blockId} `),
    );
    const looks = (mPerPx: number) => [
      ...new Set(lines.filter((line) => isSeenAt(line, mPerPx)).map(({ look }) => look)),
    ];
    // Swaths of some metres: a pass every 20 px; one a pixel; all of the field some pixels.
    expect(looks(0.2)).toEqual(["pass"]);
    expect(looks(8)).toEqual(["heading"]);
    expect(looks(500)).toEqual([]);
  });

  it("says how far off its neighbours are, and is fitted to them", () => {
    const ground = [
      [11, 51],
      [11.004, 51],
      [11.004, 51.003],
      [11, 51.003],
      [11, 51],
    ] as const;
    const geometry = {
      type: "Polygon" as const,
      coordinates: [ground.map(([lonDeg, latDeg]): [number, number] => [lonDeg, latDeg])],
    };
    const at = (id: string, latDeg: number, radiusM = 0) => ({
      id,
      name: id,
      kind: "dwelling" as const,
      radiusM,
      geometry: { type: "Point" as const, coordinates: [11.002, latDeg] as [number, number] },
    });
    // A thousandth of a degree of latitude is 111.3 m at 51 degrees (WGS 84, meridian radius 6,374 km: M x pi / 180).
    const near = nearField(geometry, [
      at("north", 51.004),
      at("reaching", 51.004, 20),
      at("far", 51.01),
      at("within", 51.001),
    ]);
    expect([...near.keys()]).toEqual(["north", "reaching", "within"]);
    expect(near.get("north")!.distanceM).toBeCloseTo(111.3, 0);
    expect(near.get("reaching")!.distanceM).toBeCloseTo(91.3, 0);
    expect(near.get("within")!.distanceM).toBe(0);
    const [west, south, east, north] = fieldBounds(geometry, near);
    expect(north).toBeCloseTo(51.004, 6);
    expect([west < 11, south < 51, east > 11.004]).toEqual([true, true, true]);
  });
});

describe("what the day's map draws", () => {
  it("is the passes of all stops, or of the chosen one alone", () => {
    const passesOf = (stop: number | null) => dayItems(day, stop, units).lines.filter(({ look }) => look === "pass");
    expect(passesOf(null)).toHaveLength(day.stops.flatMap(({ passes }) => passes).length);
    for (const { number, passes } of day.stops) expect(passesOf(number)).toHaveLength(passes.length);
    const chosen = dayItems(day, 1, units).areas.filter(({ look }) => look === "treated");
    expect(chosen.map(({ isFaded }) => isFaded)).toEqual(day.stops.map(({ number }) => number !== 1));
  });

  it("names what is near, and is fitted to the stop with its pad", () => {
    const named = dayItems(day, null, units).points.filter(({ id }) => id.startsWith("sign "));
    expect(named.map(({ label }) => label)).toEqual(day.sensitive.map(({ name }) => name));
    const [stop] = day.stops;
    const [west, south, east, north] = dayBounds(day, stop!.number);
    for (const [lonDeg, latDeg] of [stop!.pad, ...stop!.passes.flat()]) {
      expect(lonDeg).toBeGreaterThan(west - 1e-4);
      expect(lonDeg).toBeLessThan(east + 1e-4);
      expect(latDeg).toBeGreaterThan(south - 1e-4);
      expect(latDeg).toBeLessThan(north + 1e-4);
    }
    expect(dayBounds(day, null)).toEqual(day.bounds);
  });
});

describe("hazards on maps", () => {
  it("are signs of their kinds with heights beside them, and wires lines with marks", () => {
    const { lines, points } = dayItems(day, null, units);
    const signs = points.filter(({ id }) => id.startsWith("hazard sign "));
    expect(signs.map(({ label, look, title }) => [look, label, title])).toEqual([
      ["hazard mast", "24 m", "Mast, 24 m high"],
      ["hazard wire", "11.2 m", "Wire, 11.2 m high: Low-voltage line, no markers: <keep> below & clear"],
      ["hazard tree", null, "Tree, height not known: Ålder row"],
    ]);
    const [, wire] = hazardsOfLongAcre;
    const ofWire = lines.filter(({ look }) => look.startsWith("hazard"));
    expect(ofWire.map(({ look, positions }) => [look, positions])).toEqual([
      ["hazard", wire!.geometry.coordinates],
      ["hazardMarks", wire!.geometry.coordinates],
    ]);
    // From afar they would hide the fields that they stand by.
    expect(ofWire.map((line) => [isSeenAt(line, 20), isSeenAt(line, 140)])).toEqual([
      [true, false],
      [true, false],
    ]);
    // 11.2 m are 36.7 ft.
    const inFeet = dayItems(day, null, { ...units, system: "us" }).points.find(({ look }) => look === "hazard wire");
    expect(inFeet?.label).toBe("37 ft");
  });

  it("are without words on the week's map, and faded where the crew does not come", () => {
    const signsOf = (of: typeof day | null) =>
      weekItems(week, of, units).points.filter(({ id }) => id.startsWith("hazard sign "));
    expect(signsOf(null).map(({ isFaded, label, mayShrink }) => [isFaded, label, mayShrink])).toEqual(
      Array.from({ length: 3 }, () => [false, null, true]),
    );
    expect(signsOf({ ...day, hazards: [] }).every(({ isFaded }) => isFaded)).toBe(true);
  });
});

describe("fields by words", () => {
  it("are found without accents and by any of their words", () => {
    expect(fieldsFound(week.fields, "MOSE maize").map(({ name }) => name)).toEqual(["Søndre Mose"]);
    expect(fieldsFound([{ ...week.fields[0]!, name: "Cañada Ácre" }], "canada acre")).toHaveLength(1);
    expect(fieldsFound(week.fields, " ").map(({ name }) => name)).toEqual(
      week.fields.map(({ name }) => name).sort((a, b) => a.localeCompare(b)),
    );
  });
});
