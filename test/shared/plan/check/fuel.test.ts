import { describe, expect, test } from "vitest";
import type { AircraftType } from "../../../../shared/model/fleet.ts";
import type { AircraftId, AircraftTypeId } from "../../../../shared/model/quantities.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { type Draft, type DraftStop, stopsOf } from "../../../support/mutations/mutation.ts";
import { richDraft } from "../../../support/mutations/richDraft.ts";

/** Blocks whose work breaks the rule. */
function broken({ operation, plan }: Draft): (string | undefined)[] {
  return checkPlan(operation, plan)
    .breaches.filter(({ rule }) => rule === "fuel")
    .map(({ blockId }) => blockId);
}

function setTimes({ work }: DraftStop, airMin: number, groundS: number, loads: number): void {
  Object.assign(work.detail, { sprayMin: airMin / 2, turnMin: airMin / 4, ferryMin: airMin / 4, loads });
  work.detail.groundMin = groundS / 60;
}

function worksOf(draft: Draft, crewId: string): DraftStop[] {
  return stopsOf(draft).filter(({ crewDay }) => crewDay.crewId === crewId && crewDay.date === "2027-06-07");
}

interface DayTimes {
  readonly airMin: readonly [number, number];
  /** Beside loads and pumping. */
  readonly spareS: readonly [number, number];
}

/**
 * Crew K2's day of two works: HELI flies 50 min x (1 - 0.2) = 40 min on full fuel and takes 300 s to fill, the pump gives
 * 200 L/min. O-4#1: 4 loads x 60 s + 30 ha x 40 L/ha / 200 L/min = 240 s + 360 s; O-1#2: 1 load x 60 s + 15.2 ha x 15 L/ha /
 * 200 L/min = 60 s + 68.4 s.
 */
function heliDay({ airMin, spareS }: DayTimes): Draft {
  const draft = richDraft();
  const [first, second] = worksOf(draft, "K2");
  setTimes(first!, airMin[0], 240 + 360 + spareS[0], 4);
  setTimes(second!, airMin[1], 60 + 68.4 + spareS[1], 1);
  return draft;
}

function heli({ operation }: Draft) {
  return operation.fleet.aircraftTypes.find((type) => type.id === "HELI")!;
}

/** Another aircraft for crew K2's day. */
function addAircraft({ operation, plan }: Draft, type: AircraftType): void {
  const { aircraftTypes, aircraft } = operation.fleet;
  if (!aircraftTypes.includes(type)) aircraftTypes.push(type);
  const other = { ...aircraft.find((one) => one.id === "H1")!, id: "H2" as AircraftId, typeId: type.id };
  aircraft.push(other);
  plan.crewDays.find((day) => day.crewId === "K2" && day.date === "2027-06-07")!.outfit.aircraftIds.push(other.id);
}

const [first, second] = ["O-4#1", "O-1#2"];

describe("a helicopter that flies 40 min on full fuel", () => {
  test.each<DayTimes & { expected: string[] }>([
    { airMin: [30, 10], spareS: [0, 0], expected: [] },
    { airMin: [30, 10.01], spareS: [0, 0], expected: [second] },
    { airMin: [40.01, 10], spareS: [0, 0], expected: [first, second] },
    // ceil(80 / 40) - 1 = 1 filling, 300 s.
    { airMin: [40, 40], spareS: [0, 299.6], expected: [] },
    { airMin: [40, 40], spareS: [0, 299.4], expected: [second] },
    // ceil(80.01 / 40) - 1 = 2 fillings, 600 s.
    { airMin: [40, 40.01], spareS: [0, 300], expected: [second] },
    { airMin: [40, 40.01], spareS: [0, 600], expected: [] },
    // Filled before it is needed, and after.
    { airMin: [30, 50], spareS: [300, 0], expected: [] },
    { airMin: [41, 10], spareS: [0, 300], expected: [first] },
    { airMin: [41, 39], spareS: [150, 150], expected: [first] },
  ])("$airMin min in the air, $spareS s to spare: broken $expected", ({ expected, ...times }) => {
    expect(broken(heliDay(times))).toEqual(expected);
  });

  test("starts full again the day after", () => {
    const draft = heliDay({ airMin: [20, 20], spareS: [0, 0] });
    const night = stopsOf(draft).find(({ crewDay }) => crewDay.date === "2027-06-08")!;
    expect(night.crewDay.outfit.aircraftIds).toEqual(["H1"]);
    // 20 ha x 20 L/ha / 100 L/min = 240 s.
    setTimes(night, 40, 60 + 240, 1);
    expect(broken(draft)).toEqual([]);
    setTimes(night, 40.01, 60 + 240, 1);
    expect(broken(draft)).toEqual(["O-8#1"]);
  });

  test("that is filled in no time", () => {
    const draft = heliDay({ airMin: [400, 400], spareS: [0, 0] });
    heli(draft).power = { source: "fuel", enduranceMin: 50, reserveFrac: 0.2, refuelS: 0 };
    expect(broken(draft)).toEqual([]);
  });

  test("whose usable minutes do not come out even in binary", () => {
    const draft = heliDay({ airMin: [5, 5], spareS: [0, 0] });
    // 100 min x (1 - 0.9) comes to a little less than 10 min.
    heli(draft).power = { source: "fuel", enduranceMin: 100, reserveFrac: 0.9, refuelS: 300 };
    expect(100 * (1 - 0.9)).toBeLessThan(10);
    const night = stopsOf(draft).find(({ crewDay }) => crewDay.date === "2027-06-08")!;
    setTimes(night, 10, 60 + 240, 1);
    expect(broken(draft)).toEqual([]);
  });

  test("only works of outfits that burn fuel are examined", () => {
    const { operation, plan } = richDraft();
    expect(checkPlan(operation, plan).checked.fuel).toBe(3);
  });

  test("the sentence says how many seconds there are and how many are needed", () => {
    const { operation, plan } = heliDay({ airMin: [40, 45], spareS: [60, 90] });
    const [breach] = checkPlan(operation, plan).breaches.filter(({ rule }) => rule === "fuel");
    expect(breach!.sentence).toBe(
      "85 min in the air by the end of block O-1#2: refuelling at the field takes at least 600 s, the works have 150 s on the ground beside the loads",
    );
    expect(breach!.allowed).toBe(600);
    expect(breach!.actual).toBeCloseTo(150, 9);
  });
});

describe("two aircraft", () => {
  test.each([
    { airMin: 80, spareS: 0, expected: [] },
    // ceil(80.1 / 40) - 2 = 1 filling.
    { airMin: 80.1, spareS: 0, expected: [first, second] },
    { airMin: 80.1, spareS: 300, expected: [] },
  ])("of one type, $airMin min in the air, $spareS s to spare: broken $expected", ({ airMin, spareS, expected }) => {
    const draft = heliDay({ airMin: [airMin, 0], spareS: [spareS, 0] });
    addAircraft(draft, heli(draft));
    expect(broken(draft)).toEqual(expected);
  });

  // The other type flies 100 min x 0.8 = 80 min, is filled in 120 s and loaded in 30 s: 5 loads leave 150 s more to spare.
  test.each([
    { airMin: 160, spareS: -150, expected: [] },
    // ceil(160.1 / 80) - 2 = 1 filling of 120 s.
    { airMin: 160.1, spareS: -31, expected: [second] },
    { airMin: 160.1, spareS: -30, expected: [] },
  ])("the better figures of two types, $airMin min, $spareS s: broken $expected", ({ airMin, spareS, expected }) => {
    const draft = heliDay({ airMin: [100, airMin - 100], spareS: [-120, spareS + 120] });
    addAircraft(draft, {
      ...heli(draft),
      id: "OTHER" as AircraftTypeId,
      loadS: 30,
      power: { source: "fuel", enduranceMin: 100, reserveFrac: 0.2, refuelS: 120 },
    });
    expect(broken(draft)).toEqual(expected);
  });

  // A battery aircraft may fly in every minute of both works; it is loaded in 60 s too.
  test.each([
    { beyondMin: 40, pauseMin: 0, expected: [] },
    { beyondMin: 40.1, pauseMin: 0, expected: [second] },
    // Not in a pause, nor while it starts up again.
    { beyondMin: 40, pauseMin: 60, expected: [] },
    { beyondMin: 40.1, pauseMin: 60, expected: [second] },
  ])(
    "one on batteries, the other flies at least $beyondMin min, a pause of $pauseMin min: broken $expected",
    ({ beyondMin, pauseMin, expected }) => {
      const draft = heliDay({ airMin: [0, 0], spareS: [0, 0] });
      const works = worksOf(draft, "K2");
      const [firstMin, secondMin] = works.map(({ work }) => work.endMin - work.startMin);
      setTimes(works[0]!, firstMin! + 30, 240 + 360, 4);
      setTimes(works[1]!, secondMin! + beyondMin - 30, 60 + 68.4, 1);
      const { work } = works[1]!;
      if (pauseMin > 0) {
        work.pauses = [{ startMin: work.startMin + 20, endMin: work.startMin + 20 + pauseMin }];
        work.endMin += pauseMin + draft.operation.settings.planning.resumeMin;
      }
      const small = draft.operation.fleet.aircraftTypes.find((type) => type.id === "SMALL")!;
      addAircraft(draft, { ...small, id: "OTHER" as AircraftTypeId, loadS: 60 });
      expect(broken(draft)).toEqual(expected);
    },
  );
});

test.each([
  { spareS: 60, expected: [] },
  { spareS: 59, expected: ["O-5#1"] },
])("granules are not pumped, $spareS s to spare: broken $expected", ({ spareS, expected }) => {
  const draft = richDraft();
  const works = worksOf(draft, "K1");
  const [type] = works[0]!.types;
  // Two aircraft of 10 min each; 20.1 min ask for a filling. Pumping 480 kg at 100 a minute would take 288 s.
  type!.power = { source: "fuel", enduranceMin: 10, reserveFrac: 0, refuelS: 60 };
  // The liquids before are loaded and pumped, and take no flying here.
  for (const stop of works) {
    const pumpedL = stop.block.areaHa * (stop.order.carrierLPerHa ?? 0);
    setTimes(stop, 0, 30 * 2 + (pumpedL / 100) * 60, 2);
  }
  const granules = works.find(({ order }) => order.id === "O-5")!;
  setTimes(granules, 20.1, 30 * 10 + spareS, 10);
  expect(broken(draft)).toEqual(expected);
});
