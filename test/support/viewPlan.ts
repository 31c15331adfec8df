import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { type Plan, planSchema } from "../../shared/plan/plan.ts";
import { scorePlan } from "../../shared/plan/score.ts";
import { rectangleField, smallOperation } from "./operation.ts";

/*
 * A week as people read it, made by hand: the clocks of Berlin go forward on its last day (Sunday 28 March 2027, from
 * 02:00 to 03:00). One crew sprays, another spreads, one order is done in two parts, one is only partly planned, one has
 * no ground left. The times are invented and no weather rule is kept: for the views only, not for the checker.
 */

export function viewOperation(): Operation {
  const small = smallOperation({});
  const fleet = structuredClone(small.fleet);
  const [crew] = fleet.crews;
  const shifts = ["2027-03-26", "2027-03-27", "2027-03-28"].map((date) => ({ date, from: "04:30", to: "18:00" }));
  return smallOperation({
    settings: { name: "Ålder valley", firstDay: "2027-03-26", days: 3, limits: { gustMaxKph: 25 } },
    fields: {
      type: "FeatureCollection",
      features: [
        rectangleField("F1", { eastM: 3000, northM: 1000, widthM: 600, heightM: 400 }, { name: "Long Acre" }),
        rectangleField(
          "F2",
          { eastM: -2000, northM: 2500, widthM: 500, heightM: 300 },
          { crop: "maize", name: "Søndre Mose", grower: "Grower Two" },
        ),
      ],
    },
    sensitive: {
      type: "FeatureCollection",
      features: [
        // A school 100 m east of Long Acre's edge, 20 m wide: metres as rectangleField reckons them.
        sensitivePoint("school", "Hill School", { eastM: 3720, northM: 1200 }, 20),
        sensitivePoint("apiary", "Far hives", { eastM: 9000, northM: 9000 }, 0),
      ],
    },
    products: [
      {
        ...small.products[0]!,
        buffers: [{ kind: "school", distanceM: 50, downwindOnly: true }],
        inversionRule: "notWhenLikely",
      },
      {
        ...small.products[0]!,
        id: "LIQ2" as never,
        name: "Second Liquid",
        registrationNumber: "000003-00",
        windMaxKph: 12,
        windMinKph: 3,
        reiHours: 48,
        uses: [{ crop: "wheat", rateMinPerHa: 0.1, rateMaxPerHa: 1, phiDays: 1, retreatmentDays: 0 }],
      },
      small.products[1]!,
    ],
    orders: [
      {
        ...small.orders[0]!,
        products: [
          { productId: "LIQ", ratePerHa: 1 },
          { productId: "LIQ2", ratePerHa: 0.2 },
        ],
        earliest: "2027-03-26T00:00",
        latest: "2027-03-29T00:00",
        preferredDate: "2027-03-26",
        notes: "Power line along the north hedge",
      },
      {
        ...small.orders[1]!,
        earliest: "2027-03-26T00:00",
        latest: "2027-03-29T00:00",
        priority: "high",
      },
      {
        ...small.orders[1]!,
        id: "O-3",
        earliest: "2027-03-26T00:00",
        latest: "2027-03-26T06:00",
      },
    ],
    fleet: {
      ...fleet,
      tenders: [fleet.tenders[0]!, { ...fleet.tenders[0]!, id: "T2" as never, name: "Tender 2" }],
      crews: [
        { ...crew!, shifts },
        { ...crew!, id: "K2" as never, name: "Crew 2", shifts: shifts.slice(2) },
      ],
    },
  });
}

function sensitivePoint(
  kind: "school" | "apiary",
  name: string,
  { eastM, northM }: { eastM: number; northM: number },
  radiusM: number,
) {
  const corner = rectangleField("X", { eastM, northM, widthM: 1, heightM: 1 }, {}).geometry.coordinates[0] as [
    number,
    number,
  ][];
  return {
    type: "Feature" as const,
    geometry: { type: "Point" as const, coordinates: corner[0]! },
    properties: { id: name.replace(" ", "-"), kind, name, radiusM },
  };
}

type Step =
  | {
      readonly kind: "drive";
      readonly minutes: number;
      readonly from: string;
      readonly to: string;
      readonly km: number;
    }
  | { readonly kind: "setup" | "packup"; readonly minutes: number; readonly place: string }
  | { readonly kind: "wait"; readonly minutes: number }
  | { readonly kind: "refill"; readonly minutes: number; readonly place: string; readonly waterL: number }
  | { readonly kind: "cleanOut"; readonly minutes: number; readonly waterL: number }
  | { readonly kind: "methodChange"; readonly minutes: number }
  | { readonly kind: "work"; readonly minutes: number; readonly blockId: string; readonly load: Load };

interface Load {
  readonly loads: number;
  readonly loadSize: number;
  readonly amount: number;
}

export function activitiesFrom(firstMin: number, steps: readonly Step[]): unknown[] {
  let startMin = firstMin;
  return steps.map((step) => {
    const span = { startMin, endMin: startMin + step.minutes };
    startMin = span.endMin;
    return { kind: step.kind, ...span, ...membersOf(step) };
  });
}

function membersOf(step: Step): object {
  switch (step.kind) {
    case "drive":
      return { from: step.from, to: step.to, distanceKm: step.km };
    case "setup":
    case "packup":
      return { place: step.place };
    case "wait":
      return {};
    case "refill":
      return { place: step.place, waterL: step.waterL };
    case "cleanOut":
      return { fromGroup: "fungicide", toGroup: "herbicide", waterL: step.waterL };
    case "methodChange":
      return { to: "granular" };
    case "work":
      return { blockId: step.blockId, padId: "P1", detail: { ...workDetail, ...step.load } };
  }
}

const workDetail = {
  passes: 34,
  passKm: 13.6,
  headingDeg: 90,
  speedMps: 9,
  batteryChanges: 3,
  sprayMin: 25,
  turnMin: 4,
  ferryMin: 6,
  groundMin: 12,
  rateHaPerHour: 12,
  bottleneck: "aircraft",
} as const;

const outfitOf = (tenderId: string, aircraftIds: readonly string[]) => ({
  aircraftIds,
  batterySets: [{ aircraftTypeId: "SMALL", sets: 4 }],
  chargerIds: ["C1"],
  tenderId,
});

/** 12 ha each for the two parts of O-1, 15 ha for the two of O-2. */
export function viewPlan(operation: Operation): Plan {
  const calendar = createCalendar(operation.settings);
  const at = (local: string) => calendar.minOfLocal(local);
  const ground = { type: "MultiPolygon", coordinates: [operation.fields.features[0]!.geometry.coordinates] };
  const block = (id: string, areaHa: number) => {
    const [orderId, part] = id.split("#");
    return { id, orderId, part: Number(part), parts: 2, areaHa, geometry: ground };
  };
  const blocks = [block("O-1#1", 12), block("O-1#2", 12), block("O-2#1", 8), block("O-2#2", 7)];
  const there = { kind: "drive", minutes: 12, from: "B1", to: "F1/P1", km: 8.4 } as const;
  const home = { kind: "drive", minutes: 12, from: "F1/P1", to: "B1", km: 8.4 } as const;
  const crewDays = [
    {
      crewId: "K1",
      date: "2027-03-26",
      outfit: outfitOf("T1", ["A1", "A2"]),
      activities: activitiesFrom(at("2027-03-26T07:00"), [
        there,
        { kind: "setup", minutes: 10, place: "F1/P1" },
        // 12 ha at 15 L/ha are 180 L: four loads of 40 L and one of 20 L.
        { kind: "work", minutes: 60, blockId: "O-1#1", load: { loads: 5, loadSize: 40, amount: 180 } },
        { kind: "packup", minutes: 8, place: "F1/P1" },
        home,
      ]),
    },
    {
      crewId: "K1",
      date: "2027-03-28",
      outfit: outfitOf("T2", ["A1"]),
      activities: activitiesFrom(at("2027-03-28T05:30"), [
        there,
        { kind: "setup", minutes: 10, place: "F1/P1" },
        { kind: "cleanOut", minutes: 15, waterL: 40 },
        // 180 L in five equal loads.
        { kind: "work", minutes: 90, blockId: "O-1#2", load: { loads: 5, loadSize: 36, amount: 180 } },
        { kind: "packup", minutes: 8, place: "F1/P1" },
        { kind: "drive", minutes: 5, from: "F1/P1", to: "W1", km: 2.5 },
        { kind: "refill", minutes: 4, place: "W1", waterL: 220 },
        { kind: "drive", minutes: 10, from: "W1", to: "B1", km: 6 },
      ]),
    },
    {
      crewId: "K2",
      date: "2027-03-28",
      outfit: { ...outfitOf("T1", ["H1"]), batterySets: [], chargerIds: [] },
      activities: activitiesFrom(at("2027-03-28T01:30"), [
        { kind: "drive", minutes: 60, from: "B1", to: "F2/P1", km: 5 },
        { kind: "setup", minutes: 5, place: "F2/P1" },
        // 8 ha at 60 kg/ha in one load.
        { kind: "work", minutes: 20, blockId: "O-2#1", load: { loads: 1, loadSize: 480, amount: 480 } },
        { kind: "wait", minutes: 10 },
        { kind: "packup", minutes: 5, place: "F2/P1" },
        { kind: "drive", minutes: 30, from: "F2/P1", to: "B1", km: 5 },
      ]),
    },
  ];
  const settled = { blocks, crewDays } as unknown as { blocks: Plan["blocks"]; crewDays: Plan["crewDays"] };
  return planSchema.parse({
    formatVersion: 1,
    operationName: operation.settings.name,
    timeZone: operation.settings.timeZone,
    firstDay: operation.settings.firstDay,
    days: operation.settings.days,
    seed: 1,
    iterations: 0,
    blocks,
    crewDays,
    conflicts: [
      {
        orderId: "O-2",
        blockIds: ["O-2#2"],
        areaHa: 7,
        kind: "notEnoughHours",
        sentence: "No crew has the hours left for it.",
        evidence: { freeHours: 0.5, neededHours: 1.2 },
      },
      {
        orderId: "O-3",
        blockIds: [],
        areaHa: 0,
        kind: "bufferLeavesNothing",
        sentence: "The buffer to Hill School covers the whole field.",
        evidence: { leftHa: 0.01 },
      },
    ],
    score: scorePlan(operation, settled),
  });
}

export const viewReport = {
  ok: true,
  checked: { wind: 120, gust: 120, drift: 0, score: 7 },
  breaches: [],
};
