import { expect, test } from "vitest";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { minuteLimits } from "../../../../shared/agronomy/limits.ts";
import { toMultiPolygon } from "../../../../shared/geo/convert.ts";
import { addDays } from "../../../../shared/model/calendar.ts";
import type { BlockId, CrewId } from "../../../../shared/model/quantities.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import type { CrewDay, Plan } from "../../../../shared/plan/plan.ts";
import { bareWork } from "../../../support/bareWork.ts";
import { emptyPlan } from "../../../support/emptyPlan.ts";
import { calendarOf } from "../../../support/operation.ts";
import { seededRandom } from "../../../support/seededRandom.ts";
import { randomOperation } from "../../agronomy/randomOperation.ts";

const operations = 25;
const minutesOfEachBlock = 60;
const mostPauseMin = 16 * 60;

interface Probe {
  readonly crewDay: CrewDay;
  readonly expected: readonly string[];
  readonly where: string;
}

test("the checker finds in random minutes what windows are stopped by, though the two share no code", () => {
  const random = seededRandom(11);
  const times = new Map<string, number>(minuteLimits.map((limit) => [limit, 0]));
  for (let i = 0; i < operations; i++) {
    const operation = randomOperation(random);
    const calendar = calendarOf(operation);
    const agronomy = createAgronomy(operation, calendar);
    const order = operation.orders[0]!;
    const field = operation.fields.features[0]!.properties;
    const byDay = operation.fleet.crews[0]!;
    byDay.nightWork = false;
    const byNight = { ...structuredClone(byDay), id: "NIGHT" as CrewId, nightWork: true };
    operation.fleet.crews.push(byNight);
    const { plane } = agronomy.treatedArea(order);
    const parts = agronomy.parts(order);
    const blocks: Plan["blocks"] = parts.map(({ area, areaHa }, index) => ({
      id: `${order.id}#${index + 1}` as BlockId,
      orderId: order.id,
      part: index + 1,
      parts: parts.length,
      areaHa,
      geometry: toMultiPolygon(plane, area),
    }));

    const probes: Probe[] = [];
    for (const [index, { part }] of parts.entries()) {
      for (const type of operation.fleet.aircraftTypes) {
        const aircraft = operation.fleet.aircraft.find(({ typeId }) => typeId === type.id);
        if (aircraft === undefined) continue;
        const night = random() < 0.5;
        const judged = part === "rest" ? ({ night, rest: true } as const) : { night };
        const { windows } = agronomy.windows(order, type, judged);
        for (let j = 0; j < minutesOfEachBlock; j++) {
          // Half of the minutes lie at edges, where mistakes live.
          const edge = windows[Math.floor(random() * windows.length)];
          const anywhere = Math.floor(random() * calendar.horizonMin);
          const min = (j % 2 === 0 ? undefined : edge && [edge.startMin - 1, edge.endMin][(j >> 1) % 2]) ?? anywhere;
          if (min < 0 || min >= calendar.horizonMin) continue;
          // Every third work pauses after its minute and goes on for one more; what stops the minutes between is no matter.
          const secondMin = min + 2 + Math.floor(random() * mostPauseMin);
          const isPaused = j % 3 === 0 && secondMin < calendar.horizonMin;
          const worked = isPaused ? [min, secondMin] : [min];
          const limits = worked.flatMap((one) => agronomy.judge(order, type, one, judged).map(({ limit }) => limit));
          const expected: string[] = [...new Set(limits)];
          const crewId = night ? byNight.id : byDay.id;
          probes.push({
            crewDay: bareWork({
              crewId,
              date: addDays("3000-01-01", probes.length),
              aircraftId: aircraft.id,
              tenderId: operation.fleet.tenders[0]!.id,
              blockId: blocks[index]!.id,
              padId: field.pads[0]!.id,
              startMin: min,
              endMin: worked.at(-1)! + 1,
              ...(isPaused ? { pauses: [{ startMin: min + 1, endMin: secondMin }] } : {}),
            }),
            expected: expected.toSorted(),
            where: `operation ${i}, ${type.id}, ${part}, minutes ${worked}`,
          });
        }
      }
    }
    const report = checkPlan(operation, {
      ...emptyPlan(operation, i),
      blocks,
      crewDays: probes.map(({ crewDay }) => crewDay),
    });
    const found = new Map<string, Set<string>>();
    for (const { rule, date } of report.breaches) {
      if (date === undefined || !times.has(rule)) continue;
      found.set(date, (found.get(date) ?? new Set()).add(rule));
    }
    for (const { crewDay, expected, where } of probes) {
      const breached = [...(found.get(crewDay.date) ?? [])].toSorted();
      // The planner stops the near part for any of its places, the checker for those that the block comes near to.
      const isStricter = expected.includes("driftNear") && !breached.includes("driftNear");
      expect(breached, where).toEqual(expected.filter((limit) => limit !== "driftNear" || !isStricter));
      for (const limit of expected) times.set(limit, times.get(limit)! + 1);
    }
  }
  expect([...times].filter(([, count]) => count === 0)).toEqual([]);
}, 120_000);
