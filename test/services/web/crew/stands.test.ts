import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayReports, lastOf, presentStop, standsOf, takenBack } from "../../../../services/web/app/crew/stands.ts";
import type { Entry } from "../../../../services/web/app/offline/outbox.ts";
import { groundOf } from "../../../../shared/done/ground.ts";
import { progressOf } from "../../../../shared/done/progress.ts";
import type { KeptReport, WorkReport } from "../../../../shared/done/workReport.ts";
import { crewSheet } from "../../../../shared/plan/crewSheet.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";
import { keptReport, uuid } from "../../../support/workReports.ts";

const operation = viewOperation();
const plan = viewPlan(operation);
const friday = { crewId: "K1", date: "2027-03-26" };
// Every crew-day of that plan has one stop: all of them stand for a day of several.
const stops = plan.crewDays.flatMap(({ crewId, date }) => crewSheet(operation, plan, crewId, date)!.stops);
const grounds = new Map(plan.blocks.map((block) => [block.id as string, groundOf(block)]));
const at = (min: number) => new Date(Date.UTC(2027, 2, 26, 6, min)).toISOString();
const blockIds = stops.map(({ blockId }) => blockId);

let lastId = 0;
const told = (min: number, report: object, more: Partial<KeptReport> = {}) =>
  keptReport(plan, friday, { id: uuid(++lastId), at: at(min), blockId: blockIds[0], ...report } as never, more);
const takesBack = (min: number, { report }: KeptReport) =>
  keptReport(plan, friday, { id: uuid(++lastId), at: at(min), kind: "correction", withdraws: report.id } as never);
const waiting = ({ ground, report }: KeptReport, state: Entry["state"] = "waiting") =>
  ({
    operationId: "op",
    ...friday,
    place: ++lastId,
    id: report.id,
    report,
    ground,
    madeAtMs: 0,
    state,
    why: null,
  }) as Entry;

const anyReport = fc.oneof(
  fc.record({
    kind: fc.constantFrom("arrived", "started", "loadDone", "goesOn"),
    blockId: fc.constantFrom(...blockIds),
  }),
  fc.record({
    kind: fc.constantFrom("stopped", "finished"),
    blockId: fc.constantFrom(...blockIds),
    doneHa: fc.integer({ min: 0, max: 30 }),
  }),
);
const anyDay = fc.array(fc.tuple(anyReport, fc.integer({ min: 0, max: 300 }), fc.boolean(), fc.boolean()), {
  maxLength: 14,
});

describe("how far the stops have come, on the phone", () => {
  it("is what the server says of the same reports, whatever of them still waits", () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        const kept = day.flatMap(([{ kind, ...rest }, min, , isTakenBack]): KeptReport[] => {
          const more = kind === "stopped" ? { reason: "rain" } : {};
          const report = told(min, { kind, ...rest, ...more });
          if (!isTakenBack) return [report];
          return [report, takesBack(min + 1, report)];
        });
        const stored = kept.filter((_, index) => day[index % Math.max(1, day.length)]?.[2]);
        const rest = kept.filter((one) => !stored.includes(one)).map((one) => waiting(one));
        const server = new Map(progressOf(plan, kept, null).stops.map((stop) => [stop.blockId as string, stop]));
        const phone = standsOf(stops, dayReports(stored, rest), grounds);
        for (const [blockId, stand] of phone) {
          const { lastAt: _, ...same } = stand;
          expect(server.get(blockId)).toMatchObject(same);
        }
      }),
      { numRuns: 80, seed: 8 },
    );
  });

  it("counts a report once that waits and is with the server already, and never one that was refused", () => {
    const started = told(0, { kind: "started" });
    const load = told(5, { kind: "loadDone" });
    const second = told(9, { kind: "loadDone" });
    const reports = dayReports([started, load], [waiting(load, "sent"), waiting(second, "refused")]);
    expect(reports.map(({ state }) => state)).toEqual(["stored", "stored", "refused"]);
    expect(standsOf(stops, reports, grounds).get(blockIds[0]!)).toMatchObject({ state: "running", loadsDone: 1 });
  });

  it("does not count what was done on other ground by the same name", () => {
    const finished = told(0, { kind: "finished", doneHa: 5 }, { ground: "5.0000-00000000" });
    const reports = dayReports([finished], []);
    expect(standsOf(stops, reports, grounds).get(blockIds[0]!)!.state).toBe("notBegun");
    // Where the phone does not know the ground, the name has to do.
    expect(standsOf(stops, reports, new Map()).get(blockIds[0]!)!.state).toBe("finished");
  });

  it("knows what was taken back and what was last", () => {
    const started = told(0, { kind: "started" });
    const load = told(5, { kind: "loadDone" });
    const back = takesBack(6, load);
    const reports = dayReports([started], [waiting(load), waiting(back)]);
    expect([...takenBack(reports)]).toEqual([load.report.id]);
    expect(lastOf(reports, blockIds[0]!)!.report.id).toBe(started.report.id);
  });
});

describe("the stop that the crew is at", () => {
  const presentAfter = (...kept: KeptReport[]) => presentStop(stops, standsOf(stops, dayReports(kept, []), grounds));

  it("is the first, then the one where something was last reported, then the next; none when all are finished", () => {
    const [first, second] = blockIds as [string, string];
    const finished = (min: number, blockId: string) => told(min, { kind: "finished", doneHa: 1, blockId });
    expect(presentAfter()).toBe(first);
    expect(presentAfter(told(0, { kind: "arrived", blockId: second }))).toBe(second);
    expect(presentAfter(finished(0, first))).toBe(second);
    expect(presentAfter(told(0, { kind: "started" }), told(5, { kind: "stopped", reason: "rain", doneHa: 1 }))).toBe(
      first,
    );
    expect(presentAfter(...blockIds.map((blockId, min) => finished(min, blockId)))).toBeNull();
  });

  it("is not changed by what was measured elsewhere", () => {
    const measured = told(9, { kind: "conditions", blockId: blockIds[1], air: { windKph: 9 } } as Partial<WorkReport>);
    expect(presentAfter(told(0, { kind: "started" }), measured)).toBe(blockIds[0]);
  });
});
