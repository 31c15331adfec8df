import fc from "fast-check";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { type Path, pathText, valueAt } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import { smallOperation } from "../../support/operation.ts";

/** The small operation as it would arrive, with what stands at a path replaced (undefined: taken away). */
function changed(path: Path, value: unknown): unknown {
  const raw = JSON.parse(JSON.stringify(smallOperation({}))) as unknown;
  const holder = valueAt(raw, path.slice(0, -1)) as Record<string | number, unknown>;
  const last = path[path.length - 1]!;
  if (value === undefined) delete holder[last];
  else holder[last] = value;
  return raw;
}

function faultsOf(raw: unknown) {
  const validation = validateOperation(raw);
  return validation.ok ? [] : validation.faults;
}
const placesOf = (raw: unknown) => faultsOf(raw).map(({ path }) => pathText(path));

describe("an operation that is as it should be", () => {
  it("is returned as it is", () => {
    const operation = smallOperation({});
    expect(validateOperation(operation)).toEqual({ ok: true, operation, defaultsUsed: [] });
  });

  it("may have orders outside the horizon", () => {
    const raw = changed(["orders", 0, "latest"], "2027-09-01T00:00");
    expect(validateOperation(raw).ok).toBe(true);
  });

  it("may carry the foreign members of GeoJSON outside the properties (RFC 7946, 6.1)", () => {
    const raw = changed(["fields", "name"], "my fields") as { fields: { features: Record<string, unknown>[] } };
    raw.fields.features[0]!.bbox = [11, 51, 11.1, 51.1];
    raw.fields.features[0]!.id = 17;
    expect(validateOperation(raw).ok).toBe(true);
  });
});

describe("defaults", () => {
  it("are listed, those of a list together", () => {
    const raw = changed(["settings", "altitudeM"], undefined) as Operation;
    for (const step of raw.weather) delete (step as Partial<typeof step>).windHeightM;
    for (const order of raw.orders.slice(0, 1)) delete (order as Partial<typeof order>).priority;
    const validation = validateOperation(raw);
    expect(validation.ok && validation.defaultsUsed).toEqual([
      { path: ["settings", "altitudeM"], value: 0, count: 1 },
      { path: ["orders", 0, "priority"], value: "normal", count: 1 },
      { path: ["weather", "*", "windHeightM"], value: 10, count: raw.weather.length },
    ]);
  });

  it("are listed as a whole where a whole object is left out", () => {
    const validation = validateOperation(changed(["settings", "planning"], undefined));
    expect(validation.ok && validation.defaultsUsed).toMatchObject([
      { path: ["settings", "planning"], value: { blockMaxMin: 120 }, count: 1 },
    ]);
  });
});

describe("one fault does not hide or make others", () => {
  it.each([
    ["a field with a fault is still known to its orders", ["fields", "features", 0, "properties", "slopePct"], -1],
    ["a product with a fault is still known", ["products", 0, "windMaxKph"], "fast"],
    ["a type with a fault is still known", ["fleet", "aircraftTypes", 0, "turnS"], -1],
    ["a base with a fault is still known", ["settings", "bases", 0, "mainsKw"], -1],
    ["without fields nothing is said of fields", ["fields"], undefined],
    ["without products nothing is said of products", ["products"], undefined],
    ["without a fleet nothing is said of it", ["fleet"], undefined],
    ["without bases nothing is said of bases", ["settings", "bases"], undefined],
    ["without settings nothing is said of bases", ["settings"], undefined],
    ["a zone that is not stops no other check of time", ["settings", "timeZone"], "Mars/Olympus"],
  ])("%s", (_, path, value) => {
    expect(placesOf(changed(path, value))).toEqual([pathText(path)]);
  });

  it("contradictions are found beside faults of the schema", () => {
    const raw = changed(["orders", 0, "fieldId"], "F9") as Operation;
    (raw.settings as { days: number }).days = 0;
    (raw.fleet.crews[0] as { baseId: string }).baseId = "B9";
    expect(placesOf(raw)).toEqual(["settings.days", "orders[0].fieldId", "fleet.crews[0].baseId"]);
  });
});

describe("the clocks", () => {
  const at = (timeZone: string, latest: string) => {
    const raw = changed(["settings", "timeZone"], timeZone) as Operation;
    const [order] = raw.orders;
    Object.assign(order!, { earliest: "2027-01-01T00:00", latest });
    return placesOf(raw);
  };
  // The days on which clocks change are in the IANA time zone database (europe, australasia, northamerica).
  it("skip an hour in spring, on either half of the earth", () => {
    expect(at("Europe/Berlin", "2027-03-28T02:00")).toEqual(["orders[0].latest"]);
    expect(at("Europe/Berlin", "2027-03-28T02:59")).toEqual(["orders[0].latest"]);
    expect(at("Europe/Berlin", "2027-03-28T03:00")).toEqual([]);
    expect(at("Australia/Adelaide", "2027-10-03T02:30")).toEqual(["orders[0].latest"]);
    expect(at("America/Chicago", "2027-03-14T02:30")).toEqual(["orders[0].latest"]);
    expect(at("America/Phoenix", "2027-03-14T02:30")).toEqual([]);
  });
  it("skip half an hour on Lord Howe Island", () => {
    expect(at("Australia/Lord_Howe", "2027-10-03T02:15")).toEqual(["orders[0].latest"]);
    expect(at("Australia/Lord_Howe", "2027-10-03T02:30")).toEqual([]);
  });
  it("show an hour twice in autumn, which is no fault", () => {
    expect(at("Europe/Berlin", "2027-10-31T02:30")).toEqual([]);
  });
});

describe("a past application", () => {
  const at = (endedAt: string, settings: Partial<Operation["settings"]>) => {
    const raw = JSON.parse(JSON.stringify(smallOperation({ settings }))) as Operation;
    raw.fields.features[0]!.properties.pastApplications = [{ productId: raw.products[0]!.id, endedAt, ratePerHa: 1 }];
    return placesOf(raw);
  };
  const fault = ["fields.features[0].properties.pastApplications[0].endedAt"];

  it("may be written down within a day of the beginning of the first day, or of the forecast when that came later", () => {
    expect(at("2027-06-08T00:00", {})).toEqual([]);
    expect(at("2027-06-08T00:01", {})).toEqual(fault);
    expect(at("2027-06-08T00:00", { forecastIssued: "2027-06-06T18:00" })).toEqual([]);
    expect(at("2027-06-08T00:01", { forecastIssued: "2027-06-06T18:00" })).toEqual(fault);
    expect(at("2027-06-08T06:00", { forecastIssued: "2027-06-07T06:00" })).toEqual([]);
    expect(at("2027-06-08T06:01", { forecastIssued: "2027-06-07T06:00" })).toEqual(fault);
  });

  // In Berlin 2027-03-28 has 23 hours and 2027-10-31 has 25 (IANA time zone database, europe).
  it("24 hours are hours that pass", () => {
    expect(at("2027-03-29T01:00", { firstDay: "2027-03-28" })).toEqual([]);
    expect(at("2027-03-29T01:01", { firstDay: "2027-03-28" })).toEqual(fault);
    expect(at("2027-10-31T23:00", { firstDay: "2027-10-31" })).toEqual([]);
    expect(at("2027-10-31T23:01", { firstDay: "2027-10-31" })).toEqual(fault);
  });

  it.each([
    ["settings.firstDay", { firstDay: "2027-6-7" }],
    ["settings.forecastIssued", { forecastIssued: "yesterday" }],
  ])("is not judged by a %s that cannot be read", (place, settings) => {
    const raw = JSON.parse(JSON.stringify(smallOperation({}))) as Operation;
    Object.assign(raw.settings, settings);
    raw.fields.features[0]!.properties.pastApplications = [
      { productId: raw.products[0]!.id, endedAt: "2028-01-01T00:00", ratePerHa: 1 },
    ];
    expect(placesOf(raw)).toEqual([place]);
  });
});

describe("gusts", () => {
  it("are as strong as the mean wind at least", () => {
    expect(placesOf(changed(["weather", 3, "gustKph"], smallOperation({}).weather[3]!.windKph))).toEqual([]);
    expect(placesOf(changed(["weather", 3, "gustKph"], 7.9))).toEqual(["weather[3].gustKph"]);
  });
});

describe("sizes and distances, judged by GeographicLib", () => {
  const wgs84 = geodesic.Geodesic.WGS84;
  const [lonDeg, latDeg] = [11, 51];
  const away = (bearingDeg: number, distanceM: number) => {
    const { lat2, lon2 } = wgs84.Direct(latDeg, lonDeg, bearingDeg, distanceM);
    return [lon2!, lat2!] as [number, number];
  };
  /** A square field of so many hectares around the base, its pad at its corner. */
  function squareField(areaHa: number) {
    const halfDiagonalM = Math.sqrt((areaHa * 10_000) / 2);
    const ring = [45, 315, 225, 135, 45].map((bearingDeg) => away(bearingDeg, halfDiagonalM));
    const polygon = wgs84.Polygon(false);
    for (const [lon, lat] of ring.slice(0, 4)) polygon.AddPoint(lat, lon);
    const areaM2 = Math.abs(polygon.Compute(false, true).area!);
    expect(Math.abs(areaM2 / 10_000 / areaHa - 1)).toBeLessThan(1e-4);
    const raw = changed(["fields", "features", 0, "geometry", "coordinates"], [ring]) as Operation;
    const [padLon, padLat] = ring[0]!;
    raw.fields.features[0]!.properties.pads = [
      { ...raw.fields.features[0]!.properties.pads[0]!, lonDeg: padLon, latDeg: padLat },
    ];
    return raw;
  }
  it.each([
    [4995, []],
    [5005, ["fields.features[0].geometry"]],
    [0.0201, []],
    [0.0199, ["fields.features[0].geometry"]],
  ])("a field of %d ha", (areaHa, places) => {
    expect(placesOf(squareField(areaHa))).toEqual(places);
  });

  it.each([
    [4.99, []],
    [5.01, ["fields.features[0].properties.pads[0]"]],
  ])("a pad %d km from its field", (distanceKm, places) => {
    const raw = squareField(1);
    const { lat2, lon2 } = wgs84.Direct(latDeg, lonDeg, 0, distanceKm * 1000 + 50);
    Object.assign(raw.fields.features[0]!.properties.pads[0]!, { latDeg: lat2, lonDeg: lon2 });
    expect(placesOf(raw)).toEqual(places);
  });

  // The great circle on a sphere may be half a per cent off the ellipsoid's.
  it.each([
    [994, []],
    [1006, ["weather[0]"]],
  ])("a station %d km from the base", (distanceKm, places) => {
    const raw = changed(["settings", "name"], "far station") as Operation;
    const [stationLon, stationLat] = away(20, distanceKm * 1000);
    for (const step of raw.weather) Object.assign(step, { latDeg: stationLat, lonDeg: stationLon });
    expect(placesOf(raw)).toEqual(places);
  });
});

describe("whatever comes", () => {
  it("an input is judged, never thrown at", () => {
    fc.assert(
      fc.property(fc.jsonValue(), (raw) => {
        expect(faultsOf(raw).length).toBeGreaterThan(0);
      }),
    );
  });

  const pathsOf = (value: unknown, path: Path): Path[] => {
    if (typeof value !== "object" || value === null) return [path];
    const steps = Array.isArray(value) ? [...value.slice(0, 2).keys()] : Object.keys(value);
    return [
      path,
      ...steps.flatMap((step) => pathsOf((value as Record<string | number, unknown>)[step], [...path, step])),
    ];
  };
  const paths = pathsOf(smallOperation({}), []).filter((path) => path.length > 0);
  const strange = fc.oneof(
    fc.jsonValue({ maxDepth: 1 }),
    fc.constantFrom(0, -1, 1e-9, 1e9, 90, -180, "", "B1", "2027-06-07", "2027-06-07T05:00", [], [[]], {}, null),
    fc.array(fc.array(fc.constantFrom(11, 11.001, 51, 51.001), { minLength: 2, maxLength: 2 }), {
      minLength: 4,
      maxLength: 7,
    }),
  );
  it("a value replaced by another is judged, never thrown at; what is taken is taken again, complete", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...paths),
        fc.oneof(
          strange,
          strange.map((value) => [value]),
        ),
        (path, value) => {
          const raw = changed(path, value) as Operation;
          if (Array.isArray(raw.weather)) raw.weather = raw.weather.slice(0, 3);
          const validation = validateOperation(raw);
          if (validation.ok) {
            const { operation } = validation;
            expect(validateOperation(operation)).toEqual({ ok: true, operation, defaultsUsed: [] });
          } else {
            for (const { expected } of validation.faults) expect(expected).not.toBe("");
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});
