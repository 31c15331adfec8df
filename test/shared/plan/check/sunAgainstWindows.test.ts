import { expect, test } from "vitest";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { addDays } from "../../../../shared/model/calendar.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { bareWork } from "../../../support/bareWork.ts";
import { emptyPlan } from "../../../support/emptyPlan.ts";
import { blockId, nome, northernOperation, type Place, reykjavik, tromso } from "../../../support/northernOperation.ts";
import { calendarOf } from "../../../support/operation.ts";
import { seededRandom } from "../../../support/seededRandom.ts";

const places: readonly Place[] = [
  nome,
  reykjavik,
  tromso,
  { name: "Helsinki and north", timeZone: "Europe/Helsinki", latDeg: 61, lonDeg: 25 },
  { name: "far south", timeZone: "Antarctica/McMurdo", latDeg: -77.8, lonDeg: 166.7 },
  { name: "near the pole", timeZone: "Arctic/Longyearbyen", latDeg: 88.5, lonDeg: 16 },
];
const trials = 40;
const minutesOfEach = 250;
const limitsOfTheSun = ["daylight", "bloom"];

test("in white nights and polar days the checker finds what windows are stopped by, though the two share no code", () => {
  const random = seededRandom(17);
  const pick = <Item>(items: readonly Item[]) => items[Math.floor(random() * items.length)]!;
  const anyDate = (first: string, days: number) => addDays(first, Math.floor(random() * days));
  const times = new Map<string, number>();
  for (let trial = 0; trial < trials; trial++) {
    // Most in the months of white nights in the north.
    const firstDay = random() < 0.7 ? anyDate("2027-05-10", 90) : anyDate("2027-01-01", 365);
    const place = places[trial % places.length]!;
    const { operation, block } = northernOperation(place, {
      firstDay,
      flyingDay: {
        from: pick(["sunrise", "civilDawn"]),
        fromOffsetMin: pick([0, 0, 25, -40, 180, -180]),
        to: pick(["sunset", "civilDusk"]),
        toOffsetMin: pick([0, 0, 25, -40, 180, -180]),
      },
      bloom: pick([undefined, { from: addDays(firstDay, 1), to: addDays(firstDay, 2) }]),
    });
    operation.settings.limits.beeHours = {
      startAfterSunriseMin: pick([90, 0, -180, 600]),
      endBeforeSunsetMin: pick([60, 0, -180, 600]),
    };
    const calendar = calendarOf(operation);
    const agronomy = createAgronomy(operation, calendar);
    const order = operation.orders[0]!;
    const type = operation.fleet.aircraftTypes[0]!;
    const { windows } = agronomy.windows(order, type, { night: false });
    const edges = [...windows.flatMap(({ startMin, endMin }) => [startMin, endMin]), ...calendar.dayStartMin].filter(
      (edgeMin) => edgeMin > 0 && edgeMin < calendar.horizonMin,
    );
    const probes = Array.from({ length: minutesOfEach }, (_, at) => {
      // Half of the minutes lie at edges of windows or of dates, where mistakes live.
      const edge = at % 2 === 0 ? undefined : pick(edges);
      const min = edge === undefined ? Math.floor(random() * calendar.horizonMin) : edge + pick([-1, 0]);
      const date = addDays("3000-01-01", at);
      const ids = { crewId: "K1", aircraftId: "A1", tenderId: "T1", blockId, padId: "P1" };
      return { min, date, crewDay: bareWork({ ...ids, date, startMin: min, endMin: min + 1 }) };
    });
    const report = checkPlan(operation, {
      ...emptyPlan(operation, trial),
      blocks: [block],
      crewDays: probes.map(({ crewDay }) => crewDay),
    });
    const found = probes.map(({ min, date }) => {
      const rules = new Set(report.breaches.filter((breach) => breach.date === date).map(({ rule }) => rule));
      return [min, limitsOfTheSun.filter((limit) => rules.has(limit as never))] as const;
    });
    const expected = probes.map(({ min }) => {
      const limits = new Set(agronomy.judge(order, type, min, { night: false }).map(({ limit }): string => limit));
      return [min, limitsOfTheSun.filter((limit) => limits.has(limit))] as const;
    });
    for (const [, limits] of expected) for (const limit of limits) times.set(limit, (times.get(limit) ?? 0) + 1);
    const { flyingDay, beeHours } = operation.settings.limits;
    expect(found, `${place.name} ${firstDay} ${JSON.stringify({ flyingDay, beeHours })}`).toEqual(expected);
  }
  for (const limit of limitsOfTheSun) expect(times.get(limit)).toBeGreaterThan(trials);
}, 60_000);
