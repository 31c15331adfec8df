import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fnv1a32, groundOf } from "../../../shared/done/ground.ts";
import { progressOf } from "../../../shared/done/progress.ts";
import type { KeptReport, WorkReport } from "../../../shared/done/workReport.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";
import { keptReport, uuid } from "../../support/workReports.ts";

const plan = viewPlan(viewOperation());
const friday = { crewId: "K1", date: "2027-03-26" };
/** 2027-03-26 07:22 in Berlin is 06:22 UTC; minutes after that. */
const at = (min: number) => new Date(Date.UTC(2027, 2, 26, 6, 22 + min)).toISOString();
let lastId = 0;
const told = (min: number, report: object, more: Partial<KeptReport> = {}) =>
  keptReport(plan, friday, { id: uuid(++lastId), at: at(min), blockId: "O-1#1", ...report } as never, more);
const ofFriday = (kept: KeptReport[]) => {
  const { stops, remarks } = progressOf(plan, kept, null);
  return { stop: stops.find(({ blockId }) => blockId === "O-1#1")!, remarks: remarks.map(({ kind }) => kind) };
};

describe("progress of a stop", () => {
  it("is nothing where nothing is reported, for every stop of the plan", () => {
    const { stops, remarks } = progressOf(plan, [], null);
    expect(stops.map(({ blockId, state, doneHa }) => [blockId, state, doneHa])).toEqual([
      ["O-1#1", "notBegun", 0],
      ["O-1#2", "notBegun", 0],
      ["O-2#1", "notBegun", 0],
    ]);
    expect(remarks).toEqual([]);
  });

  it("follows a day as it is told", () => {
    const day = [
      told(-12, { kind: "arrived" }),
      told(0, { kind: "started" }),
      told(10, { kind: "loadDone" }),
      told(20, { kind: "loadDone" }),
    ];
    // 12 ha in five loads: two of them are 4.8 ha.
    expect(ofFriday(day)).toMatchObject({
      stop: { state: "running", arrivedAt: at(-12), startedAt: at(0), endedAt: null, doneHa: 4.8, loadsDone: 2 },
      remarks: [],
    });
    day.push(told(25, { kind: "stopped", reason: "wind", doneHa: 5.5 }));
    expect(ofFriday(day)).toMatchObject({
      stop: { state: "stopped", startedAt: at(0), endedAt: at(25), doneHa: 5.5, reason: "wind" },
      remarks: [],
    });
    day.push(told(40, { kind: "goesOn" }));
    expect(ofFriday(day)).toMatchObject({ stop: { state: "running", endedAt: null, doneHa: 5.5, reason: null } });
    day.push(told(80, { kind: "finished", doneHa: 12 }));
    expect(ofFriday(day)).toMatchObject({
      stop: { state: "finished", startedAt: at(0), endedAt: at(80), doneHa: 12 },
      remarks: [],
    });
  });

  it("counts hectares that were reported without their loads as the whole loads in them, and goes on from there", () => {
    const day = [told(0, { kind: "started" }), told(25, { kind: "stopped", reason: "wind", doneHa: 6 })];
    // 12 ha in five loads of 2.4 ha: 6 ha are two whole loads and a half.
    expect(ofFriday(day).stop).toMatchObject({ doneHa: 6, loadsDone: 2 });
    day.push(told(40, { kind: "goesOn" }), told(50, { kind: "loadDone" }));
    expect(ofFriday(day).stop).toMatchObject({ loadsDone: 3 });
    expect(ofFriday(day).stop.doneHa).toBeCloseTo(7.2, 9);
  });

  it("goes back when its report is withdrawn, before or after the correction comes in", () => {
    const finished = told(80, { kind: "finished", doneHa: 12 });
    const correction = keptReport(plan, friday, {
      id: uuid(++lastId),
      at: at(90),
      kind: "correction",
      withdraws: finished.report.id,
    } as never);
    const started = told(0, { kind: "started" });
    expect(ofFriday([started, finished, correction])).toMatchObject({ stop: { state: "running" }, remarks: [] });
    expect(ofFriday([correction, finished, started])).toMatchObject({ stop: { state: "running" }, remarks: [] });
    expect(ofFriday([correction])).toMatchObject({ stop: { state: "notBegun" }, remarks: ["withdrawsUnknown"] });
    const others = { ...correction, crewId: "K2" as never };
    expect(ofFriday([started, finished, others])).toMatchObject({
      stop: { state: "finished" },
      remarks: ["withdrawsOthers"],
    });
  });

  it.each([
    ["an end without a start", [told(80, { kind: "finished", doneHa: 12 })], ["notStarted"], "finished"],
    [
      "an end before the start",
      [told(80, { kind: "finished", doneHa: 12 }), told(90, { kind: "started" })],
      ["notStarted", "afterFinished"],
      "finished",
    ],
    ["two starts", [told(0, { kind: "started" }), told(1, { kind: "started" })], ["startedTwice"], "running"],
    ["going on without a stop", [told(0, { kind: "started" }), told(1, { kind: "goesOn" })], ["notStopped"], "running"],
    [
      "two ends",
      [told(0, { kind: "started" }), ...[80, 81].map((min) => told(min, { kind: "finished", doneHa: 12 }))],
      ["finishedTwice"],
      "finished",
    ],
    [
      "more than there is",
      [told(0, { kind: "started" }), told(80, { kind: "finished", doneHa: 12.5 })],
      ["moreThanBlock"],
      "finished",
    ],
    [
      "an end with half of the ground",
      [told(0, { kind: "started" }), told(80, { kind: "finished", doneHa: 6 })],
      ["lessThanBlock"],
      "finished",
    ],
    [
      "fewer hectares than before",
      [
        told(0, { kind: "started" }),
        told(30, { kind: "stopped", reason: "rain", doneHa: 6 }),
        told(60, { kind: "stopped", reason: "rain", doneHa: 5 }),
      ],
      ["fewerThanBefore"],
      "stopped",
    ],
    ["another crew", [told(0, { kind: "started" }, { crewId: "K2" as never })], ["otherCrew"], "running"],
    // Six minutes ahead of us; five are let pass.
    ["a clock ahead", [told(0, { kind: "started" }, { receivedAt: at(-6) })], ["clockAhead"], "running"],
    ["a clock of 1970", [told(0, { kind: "started", at: "1970-01-01T00:00:00.000Z" })], ["otherDay"], "running"],
  ])("tells %s, and loses nothing", (_what, reports, remarks, state) => {
    expect(ofFriday(reports)).toMatchObject({ remarks, stop: { state } });
  });

  it("does not tell a crew which other crew has its stop now", () => {
    const { remarks } = progressOf(plan, [told(0, { kind: "started" }, { crewId: "K2" as never })], null);
    expect(remarks[0]!.sentence).toMatch(/^Crew K2 on .* which this plan gives to another crew\.$/);
  });

  it("lets a clock be five minutes ahead, and ground be measured a little larger", () => {
    const reports = [
      told(0, { kind: "started" }, { receivedAt: at(-5) }),
      // 2 % of 12 ha are 0.24 ha.
      told(80, { kind: "finished", doneHa: 12.23 }),
    ];
    expect(ofFriday(reports)).toMatchObject({ remarks: [], stop: { doneHa: 12 } });
  });

  it("is read across publications where the ground is the same, and told where it is not", () => {
    const stale = told(0, { kind: "started" }, { ground: groundOf({ ...plan.blocks[0]!, areaHa: 11 }) });
    expect(ofFriday([stale]).stop.state).toBe("notBegun");
    expect(progressOf(plan, [stale], at(-600)).remarks.map(({ kind }) => kind)).toEqual(["notInPlan"]);
    // What came in before the plan was published was known to whoever published it.
    expect(progressOf(plan, [stale], at(600)).remarks).toEqual([]);
  });
});

describe("reports late, twice and in any order", () => {
  const kinds: fc.Arbitrary<Partial<WorkReport>> = fc.oneof(
    ...(["arrived", "started", "loadDone", "goesOn"] as const).map((kind) => fc.constant({ kind })),
    fc.record({
      kind: fc.constant("stopped" as const),
      reason: fc.constant("wind" as const),
      doneHa: fc.double({ min: 0, max: 15, noNaN: true }),
    }),
    fc.record({ kind: fc.constant("finished" as const), doneHa: fc.double({ min: 0, max: 15, noNaN: true }) }),
    fc.record({ kind: fc.constant("correction" as const), withdraws: fc.integer({ min: 1, max: 9 }).map(uuid) }),
  ) as never;
  const reports = fc.array(
    fc.record({
      kind: kinds,
      min: fc.integer({ min: 0, max: 4 }),
      blockId: fc.constantFrom("O-1#1", "O-2#1"),
      crewId: fc.constantFrom("K1", "K2"),
    }),
    { maxLength: 9 },
  );

  it("come to the same", () => {
    let shuffled = 0;
    fc.assert(
      fc.property(reports, fc.infiniteStream(fc.nat()), (parts, numbers) => {
        const kept = parts.map(({ kind, min, blockId, crewId }, index) =>
          keptReport(plan, { crewId, date: "2027-03-26" }, {
            id: uuid(index + 1),
            at: at(min),
            ...(kind.kind === "correction" ? {} : { blockId }),
            ...kind,
          } as never),
        );
        const next = () => numbers.next().value as number;
        const some = kept.filter(() => next() % 2 === 0);
        const mixed = [...kept, ...some]
          .map((one) => [next(), one] as const)
          .sort(([a], [b]) => a - b)
          .map(([, one]) => one);
        if (mixed.some((one, index) => one !== kept[index])) shuffled += 1;
        expect(progressOf(plan, mixed, null)).toEqual(progressOf(plan, kept, null));
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(shuffled).toBeGreaterThan(100);
  });
});

describe("the name of a ground", () => {
  // Test values of FNV-1a, 32 bits, published with it by its authors (MEMORY).
  it.each([
    ["", 0x811c9dc5],
    ["a", 0xe40c292c],
    ["foobar", 0xbf9cf968],
  ])("of %j", (text, hash) => expect(fnv1a32(text)).toBe(hash));
});
