import { join } from "node:path";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { readScenario } from "../../../services/scenario/read.ts";
import type { LonLat } from "../../../shared/geo/plane.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import { dayMap } from "../../../shared/plan/dayMap.ts";
import { boundsOf } from "../../../shared/plan/mapPlaces.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { stopsOf, worksOf } from "../../../shared/plan/totals.ts";
import { weekMap } from "../../../shared/plan/weekMap.ts";
import { planned } from "../../support/planned.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

async function scenario(name: string, headlandM: number): Promise<Operation> {
  const read = await readScenario(join(import.meta.dirname, "../../../scenarios", name));
  if (!read.ok) throw new Error(`${name} is faulty`);
  const { settings } = read.operation;
  return { ...read.operation, settings: { ...settings, fieldwork: { ...settings.fieldwork, headlandM } } };
}

/** Length and direction on the ellipsoid, by GeographicLib (Karney 2013). */
function inverse(from: LonLat, to: LonLat) {
  const { s12 = 0, azi1 = 0 } = geodesic.Geodesic.WGS84.Inverse(from[1], from[0], to[1], to[0]);
  return { lengthM: s12, azimuthDeg: azi1 };
}

const mapsOf = (operation: Operation, plan: Plan) =>
  plan.crewDays.map(({ crewId, date }) => dayMap(operation, plan, crewId, date)!);

describe.each([
  ["demo", 0],
  ["small", 0],
  ["small", 9],
])("the maps of %s with a headland of %d m", async (name, headlandM) => {
  const operation = await scenario(name, headlandM);
  const plan = planned(operation, 0);
  const maps = mapsOf(operation, plan);
  const works = new Map(plan.crewDays.flatMap(worksOf).map((work) => [work.blockId as string, work]));

  it("has every stop with the passes that its work was reckoned with", () => {
    const stops = maps.flatMap((map) => map.stops);
    expect(stops).toHaveLength(works.size);
    for (const { blockId, passes } of stops) {
      const { detail } = works.get(blockId)!;
      const lengthsM = passes.map((line) => inverse(line[0]!, line[1]!).lengthM);
      const lengthKm = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0) / 1000;
      // Off by at most 3e-5 by rounded positions and 8e-5 by the plane of the field, as found.
      expect(Math.abs(lengthKm / detail.passKm - 1)).toBeLessThan(2e-4);
      if (headlandM > 0) continue;
      expect(passesCounted(passes, detail.headingDeg)).toBe(detail.passes);
      for (const [from, to] of passes) {
        const { azimuthDeg, lengthM } = inverse(from!, to!);
        const offDeg = Math.abs(((((azimuthDeg - detail.headingDeg) % 180) + 270) % 180) - 90);
        // 11 mm of rounding at either end turn a short piece.
        expect(offDeg).toBeLessThan(0.02 + (0.03 / lengthM) * (180 / Math.PI));
      }
    }
  });

  it("numbers stops and names their pads as the sheet does", () => {
    for (const { crewId, date, stops, sensitive } of maps) {
      const sheet = crewSheet(operation, plan, crewId, date)!;
      expect(stops.map(({ number, blockId, padId, pad }) => [number, blockId, padId, ...pad])).toEqual(
        sheet.stops.map(({ number, blockId, padId, padLonDeg, padLatDeg }) => [
          number,
          blockId,
          padId,
          padLonDeg,
          padLatDeg,
        ]),
      );
      const named = new Set<string>(sheet.stops.flatMap((stop) => stop.neighbours.map((one) => one.sensitiveId)));
      expect(new Set(sensitive.map(({ id }) => id))).toEqual(named);
    }
  });

  it("goes from place to place without a gap, and home again", () => {
    for (const { route, places } of maps) {
      route.slice(1).forEach(({ line, fromWords }, at) => {
        expect(line[0]).toEqual(route[at]!.line[1]);
        expect(fromWords).toBe(route[at]!.toWords);
      });
      expect(route.at(-1)!.line[1]).toEqual(route[0]!.line[0]);
      for (const { line, km } of route) {
        // No road is shorter than the way as the crow flies.
        expect(inverse(...line).lengthM / 1000).toBeLessThan(km * 1.01 + 0.01);
        for (const end of line) expect(places.map(({ at }) => at)).toContainEqual(end);
      }
    }
  });

  it("tells of every field what becomes of its orders", () => {
    const week = weekMap(operation, plan);
    expect(week.fields.map(({ fieldId }) => fieldId)).toEqual(operation.fields.features.map((f) => f.properties.id));
    const leftOut = new Set<string>(plan.conflicts.map(({ orderId }) => orderId));
    const worked = new Set<string>(stopsOf(plan).map(({ block }) => block.orderId));
    for (const { status, orders } of week.fields) {
      const some = orders.some((id) => worked.has(id));
      const all = orders.every((id) => !leftOut.has(id));
      const told = orders.length === 0 ? "noOrder" : some ? (all ? "planned" : "partly") : "notPlanned";
      expect(status).toBe(told);
    }
    for (const { crewId, date, fields } of maps) {
      for (const { fieldId } of fields) {
        expect(week.fields.find((field) => field.fieldId === fieldId)!.crewDays).toContainEqual({ crewId, date });
      }
    }
  });
});

/** Pieces within a metre of each other across the heading belong to one pass. */
function passesCounted(pieces: readonly (readonly LonLat[])[], headingDeg: number): number {
  const acrossM = pieces
    .map((piece) => {
      const { lengthM, azimuthDeg } = inverse(pieces[0]![0]!, piece[0]!);
      return lengthM * Math.sin(((azimuthDeg - headingDeg) * Math.PI) / 180);
    })
    .sort((a, b) => a - b);
  return acrossM.filter((offM, at) => at === 0 || offM - acrossM[at - 1]! > 1).length;
}

describe("dayMap", () => {
  it("is null on a day without work", () => {
    const operation = viewOperation();
    expect(dayMap(operation, viewPlan(operation), "K1", "2027-03-27")).toBeNull();
  });
});

describe("boundsOf", () => {
  it("takes the short way across the antimeridian: RFC 7946, section 5.2", () => {
    const fiji: LonLat[] = [
      [177, -20],
      [-178, -16],
      [178, -18],
    ];
    expect(boundsOf(fiji)).toEqual([177, -20, -178, -16]);
    expect(boundsOf([[1, 2]])).toEqual([1, 2, 1, 2]);
  });
});
