import { describe, expect, it } from "vitest";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import { planSchema } from "../../../shared/plan/plan.ts";
import { partWords, runsOf } from "../../../shared/plan/runs.ts";
import { crewSheetText } from "../../../shared/plan/text.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const operation = viewOperation();

/** The hand-made week, but crew 1 does both parts of O-1 on Friday, the second right after the first. */
function planOfOneRun() {
  const plan = viewPlan(operation);
  const [friday, sunday] = plan.crewDays;
  const second = sunday!.activities.find(({ kind }) => kind === "work")!;
  const before = friday!.activities.slice(0, 3);
  const gapMin = before.at(-1)!.endMin - second.startMin;
  const moved = { ...second, startMin: second.startMin + gapMin, endMin: second.endMin + gapMin };
  const lastMin = moved.endMin - before.at(-1)!.endMin;
  const after = friday!.activities
    .slice(3)
    .map((activity) => ({ ...activity, startMin: activity.startMin + lastMin, endMin: activity.endMin + lastMin }));
  return planSchema.parse({ ...plan, crewDays: [{ ...friday!, activities: [...before, moved, ...after] }] });
}

describe("parts worked without a break", () => {
  const sheet = crewSheet(operation, planOfOneRun(), "K1", "2027-03-26")!;

  it("are one row of the day and one section of the sheet", () => {
    expect(sheet.timeline.map(({ kind, minutes }) => [kind, minutes])).toEqual([
      ["drive", 12],
      ["setup", 10],
      ["work", 150],
      ["packup", 8],
      ["drive", 12],
    ]);
    const work = sheet.timeline[2]!;
    expect(work.words).toBe("Stops 1 to 2: spray Long Acre both parts, order O-1");
    expect(work.details[0]).toBe("24.0 ha");
    // 24 ha at 15 L/ha.
    expect(work.tenderL).toBe(2000 - 360);
    expect(runsOf(sheet.stops)).toHaveLength(1);
    const text = crewSheetText(sheet);
    expect(text).toContain("Stops 1 to 2: Long Acre, 07:22 to 09:52");
    // The intervals run from the end of the second part: 48 h, of which the clocks leave one out.
    expect(text).toMatch(/Re-entry from +Sun 28 March 10:52/);
    expect(text).toMatch(/A Liquid Example, 000001-00 +1 L +24 L/);
    expect(text).toMatch(/\n {2}1 +4 full .*\n {2}1 +1 last .*\n {2}2 +5 full +36 L/);
  });

  it("stay two when there is a break between them or they are of two orders", () => {
    const [first, second] = sheet.stops;
    const later = { ...second!, start: { ...second!.start, min: second!.start.min + 1 } };
    expect(runsOf([first!, later])).toHaveLength(2);
    expect(runsOf([first!, { ...second!, orderId: "O-2" }])).toHaveLength(2);
    expect(runsOf([])).toEqual([]);
  });
});

describe("partWords", () => {
  it.each([
    [[1], 1, ""],
    [[2], 3, " part 2 of 3"],
    [[3, 1], 4, " parts 1, 3 of 4"],
    [[5, 2, 1, 3, 8], 9, " parts 1-3, 5, 8 of 9"],
    [[2, 1, 3], 3, " all 3 parts"],
    [[1, 2], 2, " both parts"],
  ])("%j of %i reads '%s'", (numbers, parts, words) => {
    expect(partWords(numbers.map((part) => ({ part, parts })))).toBe(words);
  });
});
