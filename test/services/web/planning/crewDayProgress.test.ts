import { describe, expect, it } from "vitest";
import { crewDayProgress, needsEye } from "../../../../services/web/app/week/planning/crewDayProgress.ts";
import type { PlanProgress } from "../../../../shared/contracts/fieldwork.ts";
import type { WeekView } from "../../../../shared/plan/weekView.ts";

const date = "2027-06-14";
const at = (clock: string, day = date) => `${day}T${clock}:00+02:00`;
const time = (clock: string) => ({ min: 0, date, clock, iso: at(clock) });
const planned = (blockId: string, from: string, to: string) => ({
  blockId,
  fieldName: `Field of ${blockId}`,
  areaHa: 10,
  start: time(from),
  end: time(to),
});
const week = {
  crews: [
    {
      id: "a",
      name: "A",
      days: [{ date, crewDay: { stops: [planned("O-1#1", "06:00", "07:00"), planned("O-2#1", "07:30", "09:00")] } }],
    },
    { id: "b", name: "B", days: [{ date, crewDay: null }] },
  ],
} as unknown as WeekView;

const stand = (blockId: string, state: string, more: object = {}) =>
  ({ blockId, state, startedAt: null, endedAt: null, doneHa: 0, areaHa: 10, reason: null, ...more }) as never;
const rowsOf = (stops: readonly unknown[], now: string, today = date) =>
  crewDayProgress(week, { stops } as Pick<PlanProgress, "stops">, Date.parse(at(now)), today);
const standingOf = (stops: readonly unknown[], now: string) => rowsOf(stops, now)[0]?.standing;

const first = stand("O-1#1", "finished", { startedAt: at("06:20"), endedAt: at("07:20"), doneHa: 10 });

describe("how a crew-day stands beside its plan", () => {
  it("tells nothing of other days as long as nobody has reported on them", () => {
    expect(rowsOf([], "05:00", "2027-06-13")).toEqual([]);
    expect(rowsOf([first], "05:00", "2027-06-20")).toHaveLength(1);
  });

  it("is to come before its first stop, silent after", () => {
    expect(standingOf([], "05:00")).toEqual({ kind: "toCome" });
    expect(standingOf([], "06:45")).toEqual({ kind: "silent", fieldName: "Field of O-1#1", behindMin: 45 });
  });

  it("is as late as its running stop began", () => {
    const running = stand("O-1#1", "running", { startedAt: at("05:35"), doneHa: 2 });
    expect(standingOf([running], "06:10")).toEqual({ kind: "running", fieldName: "Field of O-1#1", behindMin: -25 });
  });

  it("between two stops is as late as the last one ended, until the next should have begun", () => {
    expect(standingOf([first], "07:25")).toEqual({ kind: "between", behindMin: 20 });
    expect(standingOf([first], "08:15")).toEqual({ kind: "silent", fieldName: "Field of O-2#1", behindMin: 45 });
  });

  it("is finished with its last stop, and counts what is done", () => {
    const second = stand("O-2#1", "finished", { startedAt: at("07:30"), endedAt: at("08:50"), doneHa: 9.5 });
    const [row] = rowsOf([first, second], "12:00");
    expect(row).toMatchObject({ stops: 2, finished: 2, areaHa: 20, doneHa: 19.5 });
    expect(row!.standing).toEqual({ kind: "finished", behindMin: -10 });
    expect(needsEye(row!)).toBe(false);
  });

  it("puts what was stopped before what waits", () => {
    const stopped = stand("O-1#1", "stopped", { startedAt: at("06:00"), endedAt: at("06:30"), reason: "wind" });
    const [row] = rowsOf([stopped], "09:00");
    expect(row!.standing).toEqual({ kind: "stopped", fieldName: "Field of O-1#1", reason: "wind" });
    expect(needsEye(row!)).toBe(true);
  });
});
