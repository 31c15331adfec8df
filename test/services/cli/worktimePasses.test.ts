import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import geodesic from "geographiclib-geodesic";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { demo, orderTold, small, smallWith, sum, worktime } from "./runWorktime.ts";

interface Passes {
  readonly type: string;
  readonly features: readonly {
    readonly type: string;
    readonly properties: {
      readonly leg: number;
      readonly part: string;
      readonly sortie: number;
      readonly kind: string;
      readonly number: number;
      readonly lengthM: number;
    };
    readonly geometry: { readonly type: string; readonly coordinates: readonly (readonly [number, number])[] };
  }[];
}
interface Fleet {
  readonly aircraftTypes: readonly {
    readonly id: string;
    readonly ferrySpeedMps: number;
    readonly takeoffLandingS: number;
  }[];
}
interface Fields {
  readonly features: readonly {
    readonly properties: {
      readonly id: string;
      readonly pads: readonly { readonly id: string; readonly lonDeg: number; readonly latDeg: number }[];
    };
  }[];
}

describe("the passes that worktime writes", { timeout: 120_000 }, () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-worktime-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("writes the passes as RFC 7946 lines, as long on the ellipsoid as they are said to be", () => {
    const file = join(folder, "passes.geojson");
    const { parts } = orderTold(demo, "--order", "O-118", "--passes", file).outfit.outcome;
    const { type, features } = JSON.parse(readFileSync(file, "utf8")) as Passes;
    expect(type).toBe("FeatureCollection");
    const legs = features.map(({ properties }) => properties.leg);
    expect(legs).toEqual(legs.toSorted((a, b) => a - b));
    expect([legs[0], new Set(legs).size]).toEqual([1, legs.at(-1)]);
    for (const { geometry, properties } of features) {
      expect(geometry.type).toBe("LineString");
      const [[lon1, lat1], [lon2, lat2]] = geometry.coordinates as [[number, number], [number, number]];
      const { s12, azi1 } = geodesic.Geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2);
      // Two centimetres are the rounding of positions; a plane of some kilometres is true to 0.02 %.
      expect(Math.abs(s12! - properties.lengthM)).toBeLessThan(0.02 + 0.0002 * properties.lengthM);
      const { headingDeg } = parts.find(({ part }) => part === properties.part)!;
      const offDeg = (((azi1! - headingDeg) % 180) + 180) % 180;
      if (properties.lengthM > 50) expect(Math.min(offDeg, 180 - offDeg)).toBeLessThan(0.1);
    }
    for (const { part, passes, passKm } of parts) {
      const own = features.filter(({ properties }) => properties.part === part);
      expect(new Set(own.map(({ properties }) => properties.number)).size).toBe(passes);
      // What no centre line meets lengthens the passes by a little.
      const lineM = sum(own.map(({ properties }) => properties.lengthM));
      expect(lineM).toBeLessThanOrEqual(1000 * passKm + 1);
      expect(lineM).toBeGreaterThan(970 * passKm);
    }
  });

  it("cuts them where a sortie breaks off: even shares, and the ferries that were timed from the pad", () => {
    const file = join(folder, "sorties.geojson");
    for (const [orderId, scenario] of [
      ["O-118", demo],
      ["O-001", small],
    ] as const) {
      const { fieldId, outfit } = orderTold(scenario, "--order", orderId, "--passes", file);
      const { features } = JSON.parse(readFileSync(file, "utf8")) as Passes;
      const { aircraftTypes } = JSON.parse(readFileSync(join(scenario, "fleet.json"), "utf8")) as Fleet;
      const fields = JSON.parse(readFileSync(join(scenario, "fields.geojson"), "utf8")) as Fields;
      const { ferrySpeedMps, takeoffLandingS } = aircraftTypes.find(({ id }) => id === outfit.aircraftTypeId)!;
      const { pads } = fields.features.find(({ properties }) => properties.id === fieldId)!.properties;
      for (const { part, loads, padId, ferryMin } of outfit.outcome.parts) {
        const own = features.filter(({ properties }) => properties.part === part);
        const pad = pads.find(({ id }) => id === padId)!;
        const awayM = ([lonDeg, latDeg]: readonly [number, number]) =>
          geodesic.Geodesic.WGS84.Inverse(pad.latDeg, pad.lonDeg, latDeg, lonDeg).s12!;
        const wholeM = sum(own.map(({ properties }) => properties.lengthM));
        const ferriesM: number[] = [];
        for (let sortie = 1; sortie <= loads; sortie++) {
          const flown = own.filter(({ properties }) => properties.sortie === sortie);
          const shareM = sum(flown.map(({ properties }) => properties.lengthM));
          // Lengths are rounded to the centimetre.
          expect(Math.abs(shareM - wholeM / loads)).toBeLessThan(0.01 * (flown.length + own.length / loads));
          ferriesM.push(awayM(flown[0]!.geometry.coordinates[0]!) + awayM(flown.at(-1)!.geometry.coordinates[1]!));
        }
        const sorties = own.map(({ properties }) => properties.sortie);
        expect(sorties).toEqual(sorties.toSorted((a, b) => a - b));
        const toldM = (ferryMin * 60 - loads * takeoffLandingS) * ferrySpeedMps;
        expect(Math.abs(sum(ferriesM) - toldM)).toBeLessThan(0.02 * 2 * loads + 0.0005 * toldM);
        // Flown from the end with the longer ferry, so that the last landing is soon.
        expect(ferriesM[0]).toBeGreaterThanOrEqual(ferriesM.at(-1)! - 0.04);
      }
    }
  });

  it("tells laps of a headland, and marks them among the passes", () => {
    // 15 m are two laps of swaths up to 10 m.
    const dir = smallWith(join(folder, "headland"), {
      "operation.json": (text) => JSON.stringify({ ...JSON.parse(text), fieldwork: { headlandM: 15 } }),
    });
    const file = join(folder, "laps.geojson");
    const { stdout } = worktime(dir, "--order", "O-001", "--passes", file);
    expect(stdout).toContain("2 laps of the headland among them");
    const { features } = JSON.parse(readFileSync(file, "utf8")) as Passes;
    const laps = features.filter(({ properties }) => properties.kind === "lap");
    expect(new Set(laps.map(({ properties }) => properties.number))).toEqual(new Set([1, 2]));
    // All of them before the passes, or after them where the path is flown from its other end.
    const kinds = features.map(({ properties }) => properties.kind);
    expect(kinds.filter((kind, index) => index > 0 && kind !== kinds[index - 1])).toHaveLength(1);
  });
});
