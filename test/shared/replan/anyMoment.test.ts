import { describe, expect, it } from "vitest";
import { prepareFor, standingOf } from "../../../services/solver/moves/standing.ts";
import { createRandom, pickIndex } from "../../../services/solver/random.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import type { StopProgress } from "../../../shared/plan/stopProgress.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { asTold } from "../../../shared/replan/happened.ts";
import { planDifference } from "../../../shared/replan/planDifference.ts";
import { replanOperation } from "../../../shared/replan/replanOperation.ts";
import { anyOperation } from "../../support/allTogether.ts";
import { planned } from "../../support/planned.ts";

/** Crews that are late, stop in the middle, or report nothing; aircraft that break down; wind that freshens. */
function whatHappens(operation: Operation, plan: Plan, seed: number) {
  const random = createRandom(seed);
  const calendar = createCalendar(operation.settings);
  const works = plan.crewDays.flatMap(worksOf);
  const { startMin, endMin } = works[pickIndex(random, works.length)]!;
  const nowMin = Math.floor(startMin + random() * (endMin - startMin + 60));
  const progress = asTold(plan, calendar.isoOfMin(nowMin)).flatMap((one): StopProgress[] => {
    const draw = random();
    if (draw < 0.1) return [];
    if (draw < 0.3) {
      const endedAt = one.endedAt ?? new Date(calendar.epochMsOfMin(nowMin)).toISOString();
      return [{ ...one, state: "stopped", endedAt, doneHa: random() * one.doneHa }];
    }
    return [one];
  });
  const { aircraft } = operation.fleet;
  const lost = random() < 0.4 ? aircraft[pickIndex(random, aircraft.length)]!.id : null;
  const windTimes = random() < 0.5 ? 1.4 : 1;
  const date = calendar.dateOfMin(nowMin) as (typeof aircraft)[number]["outOfService"][number]["from"];
  const now: Operation = {
    ...operation,
    weather: operation.weather.map((step) => ({
      ...step,
      windKph: windTimes * step.windKph,
      gustKph: windTimes * step.gustKph,
    })),
    fleet: {
      ...operation.fleet,
      aircraft: aircraft.map((one) =>
        one.id === lost ? { ...one, outOfService: [...one.outOfService, { from: date, to: date }] } : one,
      ),
    },
  };
  return { now, progress, asOf: calendar.isoOfMin(nowMin).slice(0, "2027-06-07T05:30".length), random };
}

describe("planned again at any moment, whatever has happened", { timeout: 120_000 }, () => {
  it.each(Array.from({ length: 12 }, (_, at) => at + 1))(
    "a plan holds, and every stop is accounted for: seed %i",
    (seed) => {
      const operation = anyOperation(seed);
      const published = planned(operation, 30);
      if (published.crewDays.length === 0) throw new Error("nothing is planned that could be planned again");
      const { now, progress, asOf, random } = whatHappens(operation, published, seed);
      const keepUntil = random() < 0.5 ? createCalendar(operation.settings).dates.at(-1) : undefined;
      const { operation: left, fates } = replanOperation({
        operation: now,
        told: [{ plan: published, operation, progress }],
        asOf,
        keepUntil,
      });
      const validation = validateOperation(JSON.parse(JSON.stringify(left)));
      expect(validation.ok ? [] : validation.faults).toEqual([]);
      // `planned` has the checker look for breaches of every rule, `planFrom` and `locked` too.
      const plan = planned(left, 15, { published });
      const { counts } = planDifference({ operation, plan: published }, { operation: left, plan }, fates);
      const told = published.crewDays.filter(({ date }) => date >= left.settings.firstDay).flatMap(worksOf);
      expect(counts.kept + counts.moved + counts.dropped + counts.done).toBe(told.length);
      // Stops of it can be moved by hand: it is compiled again as it was.
      const agronomy = createAgronomy(left, createCalendar(left.settings));
      expect(standingOf(prepareFor(left, plan, agronomy), plan)).not.toBeNull();
      // No ground that is done is planned once more.
      const doneHa = published.blocks
        .filter(({ id }) => fates.some(({ blockId, fate, isLocked }) => blockId === id && fate === "done" && !isLocked))
        .reduce((sum, { areaHa }) => sum + areaHa, 0);
      const haOf = ({ blocks }: Plan) => blocks.reduce((sum, { areaHa }) => sum + areaHa, 0);
      expect(haOf(plan)).toBeLessThan(haOf(published) - doneHa + 0.01 * haOf(published));
    },
  );
});
