import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import type { StopProgress } from "../../../shared/plan/stopProgress.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import type { ReplanAsk, Replanned } from "../../../shared/replan/ask.ts";
import { asTold } from "../../../shared/replan/happened.ts";
import { planDifference } from "../../../shared/replan/planDifference.ts";
import { replanOperation } from "../../../shared/replan/replanOperation.ts";
import { planned } from "../../support/planned.ts";

const operation = generateOperation({ orders: 40, crews: 4, days: 5, seed: 8 });
const published = planned(operation, 60);
const calendar = createCalendar(operation.settings);

interface Stop {
  readonly crewId: string;
  readonly date: string;
  readonly orderId: string;
  readonly areaHa: number;
  readonly start: string;
}

/** Stops with what does not hang on the first day or the numbers of blocks. */
function stopsOf(plan: Plan): Stop[] {
  const own = createCalendar(plan);
  return plan.crewDays.flatMap((crewDay) =>
    worksOf(crewDay).map(({ blockId, startMin }) => {
      const block = plan.blocks.find(({ id }) => id === blockId)!;
      return {
        crewId: crewDay.crewId,
        date: crewDay.date,
        orderId: block.orderId,
        areaHa: Number(block.areaHa.toFixed(2)),
        start: own.isoOfMin(startMin),
      };
    }),
  );
}

/** The middle of a stop, as local time, and everything that crews do as it was told up to then. */
function during(at: number): { readonly asOf: string; readonly progress: StopProgress[] } {
  const works = published.crewDays.flatMap(worksOf).toSorted((a, b) => a.startMin - b.startMin);
  const { startMin, endMin } = works[at]!;
  const iso = calendar.isoOfMin(Math.floor((startMin + endMin) / 2));
  return { asOf: iso.slice(0, "2027-06-07T05:30".length), progress: asTold(published, iso) };
}

function replanned(now: Operation, asOf: string, progress: StopProgress[], more: Partial<ReplanAsk> = {}): Replanned {
  const outcome = replanOperation({ operation: now, told: [{ plan: published, operation, progress }], asOf, ...more });
  const validation = validateOperation(JSON.parse(JSON.stringify(outcome.operation)));
  expect(validation.ok ? [] : validation.faults).toEqual([]);
  return outcome;
}

const works = published.crewDays.flatMap(worksOf).length;
const moments = [3, Math.floor(works / 3), Math.floor((2 * works) / 3)];

describe("an operation that is planned again", () => {
  it("is the same before its first day, and so is its plan", () => {
    const { operation: again, fates } = replanned(operation, `${operation.settings.firstDay}T00:00`, []);
    expect({ ...again, settings: { ...again.settings, forecastIssued: undefined } }).toEqual({
      ...operation,
      settings: { ...operation.settings, forecastIssued: undefined },
    });
    expect(fates.every(({ fate }) => fate === "toCome")).toBe(true);
    expect(planned(again, 3, { published }).crewDays).toEqual(published.crewDays);
  });

  it.each(moments)("keeps every stop where it is when all goes as told (moment %i)", (at) => {
    const { asOf, progress } = during(at);
    const { operation: again, fates } = replanned(operation, asOf, progress);
    const plan = planned(again, 0, { published });
    expect(plan.brokenLocks ?? []).toEqual([]);
    const left = stopsOf(published).filter(({ date }) => date >= again.settings.firstDay);
    const gone = new Set(
      fates.filter(({ fate, isLocked }) => fate === "done" && !isLocked).map(({ blockId }) => blockId.split("#")[0]),
    );
    // Of orders that were done in part the other blocks stay, too.
    expect(stopsOf(plan)).toEqual(expect.arrayContaining(left.filter(({ orderId }) => !gone.has(orderId))));
    expect(fates.some(({ fate, isLocked }) => fate === "underWay" && isLocked)).toBe(true);
  });

  it.each(moments)(
    "moves nothing that has begun, however it is searched and whatever the weather (moment %i)",
    (at) => {
      const { asOf, progress } = during(at);
      const windier = {
        ...operation,
        weather: operation.weather.map((step) => ({
          ...step,
          windKph: 1.3 * step.windKph,
          gustKph: 1.3 * step.gustKph,
        })),
      };
      for (const now of [operation, windier]) {
        const { operation: again, fates } = replanned(now, asOf, progress);
        const locked = new Set(fates.filter(({ isLocked }) => isLocked).map(({ blockId }) => blockId));
        const plan = planned(again, 40, { published });
        expect(plan.brokenLocks ?? []).toEqual([]);
        const held = stopsOf({
          ...published,
          crewDays: published.crewDays.map((crewDay) => ({
            ...crewDay,
            activities: crewDay.activities.filter((one) => one.kind === "work" && locked.has(one.blockId)),
          })),
        });
        expect(held.length).toBeGreaterThan(0);
        expect(stopsOf(plan)).toEqual(expect.arrayContaining(held));
      }
    },
  );

  it("stays nearer to what crews know where a change is to cost more, and the wish changes nothing else", () => {
    const { asOf, progress } = during(moments[0]!);
    const windier = {
      ...operation,
      weather: operation.weather.map((step) => ({
        ...step,
        windKph: 1.2 * step.windKph,
        gustKph: 1.2 * step.gustKph,
      })),
    };
    const [usual, near] = (["usual", "high"] as const).map((changeCost) => {
      const { operation: again, fates } = replanned(windier, asOf, progress, { changeCost });
      const plan = planned(again, 300, { published });
      return {
        again,
        kept: planDifference({ operation, plan: published }, { operation: again, plan }, fates).counts.kept,
      };
    });
    const { planning } = usual!.again.settings;
    expect(near!.again).toEqual({
      ...usual!.again,
      settings: {
        ...usual!.again.settings,
        planning: {
          ...planning,
          changeCrewDayCents: 5 * planning.changeCrewDayCents,
          changeDroppedCents: 5 * planning.changeDroppedCents,
          changeStartCents: 5 * planning.changeStartCents,
        },
      },
    });
    expect(near!.kept).toBeGreaterThan(usual!.kept);
  });
});
