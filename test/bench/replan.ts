import { loadHighs } from "../../services/linear/highs.ts";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import {
  type Before,
  startOf as beginOf,
  planFromSnapshot,
  planOperation,
  prepareOperation,
} from "../../services/solver/planOperation.ts";
import { polishWith } from "../../services/solver/polish.ts";
import { createRandom, type Random } from "../../services/solver/random.ts";
import { snapshotOf } from "../../services/solver/snapshot.ts";
import { addDays, createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { moneyWords } from "../../shared/plan/words.ts";
import { timesChangeCost } from "../../shared/replan/changeCost.ts";
import { asTold } from "../../shared/replan/happened.ts";
import { planDifference } from "../../shared/replan/planDifference.ts";
import { replanOperation } from "../../shared/replan/replanOperation.ts";
import { median } from "./measure.ts";
import { ordersPerCrew } from "./weeks/runWeek.ts";

export interface ReplanOptions {
  /** What a change costs, times the usual. */
  readonly change: number;
  readonly orders: number;
  /** Of the processor, for every plan. */
  readonly seconds: number;
  readonly seeds: number;
}

interface Row {
  readonly firstS: number;
  readonly firstWallS: number;
  readonly firstKeptFrac: number;
  readonly firstCents: number;
  readonly keptFrac: number;
  readonly againCents: number;
  readonly afreshCents: number;
  readonly breaches: number;
}

const days = 7;

/** A week that crews go by, then, on its third morning, a forecast in which the wind comes some hours earlier or later on some days. False when the checker finds anything. */
export async function benchReplan({ orders, seconds, seeds, change }: ReplanOptions): Promise<boolean> {
  const linear = await loadHighs();
  const search = (operation: Operation, seed: number, before: Before = {}) =>
    planOperation(operation, {
      seed,
      random: createRandom(seed),
      polish: polishWith(linear, seconds),
      doneShare: cpuShare(seconds),
      ...before,
    });
  console.log(
    `${orders} orders, ${seconds} s of the processor for every plan; seconds are of the processor, in brackets by the clock`,
  );
  const rows: Row[] = [];
  for (let seed = 1; seed <= seeds; seed++) {
    const crews = Math.max(1, Math.round(orders / ordersPerCrew));
    const usual = generateOperation({ orders, crews, days, seed });
    const operation = { ...usual, settings: timesChangeCost(usual.settings, change) };
    const published = search(operation, seed);
    const row = replanned(operation, published, seed, search);
    rows.push(row);
    console.log(`seed ${seed}: ${words((of) => of(row))}, ${row.breaches} breaches`);
  }
  console.log(`median: ${words((of) => median(rows.map(of)))}`);
  return rows.every(({ breaches }) => breaches === 0);
}

function words(value: (of: (row: Row) => number) => number): string {
  const cents = (of: (row: Row) => number) =>
    `${moneyWords(value(of))} (${percent(value((row) => of(row) / row.afreshCents - 1))} over afresh)`;
  return [
    `first checked answer after ${value(({ firstS }) => firstS).toFixed(1)} s (${value(({ firstWallS }) => firstWallS).toFixed(1)})`,
    `with ${percent(value(({ firstKeptFrac }) => firstKeptFrac))} of untouched stops kept at ${cents(({ firstCents }) => firstCents)}`,
    `then ${percent(value(({ keptFrac }) => keptFrac))} kept at ${cents(({ againCents }) => againCents)}`,
    `afresh ${moneyWords(value(({ afreshCents }) => afreshCents))}`,
  ].join(", ");
}

function replanned(
  operation: Operation,
  published: Plan,
  seed: number,
  search: (operation: Operation, seed: number, before?: Before) => Plan,
): Row {
  const calendar = createCalendar(operation.settings);
  const asOf = `${addDays(operation.settings.firstDay, 2)}T04:00`;
  const progress = asTold(published, calendar.isoOfMin(calendar.minOfLocal(asOf)));
  const now = { ...operation, weather: windMoved(operation, createRandom(seed + 100)) };
  const ask = { operation: now, told: [{ plan: published, operation, progress }] as const, asOf };

  const startOf = new Map(
    published.crewDays.flatMap(({ activities }) =>
      activities.flatMap((one) =>
        one.kind === "work" ? [[one.blockId as string, calendar.isoOfMin(one.startMin)] as const] : [],
      ),
    ),
  );
  const startedMs = performance.now();
  const startedS = cpuSeconds();
  const left = replanOperation({ ...ask, told: [...ask.told] });
  const prepared = prepareOperation(left.operation, published);
  const start = snapshotOf(prepared.problem, beginOf(prepared, { published })!);
  const first = planFromSnapshot(prepared, start, { seed, iterations: 0 }, null);
  const firstBreaches = checkPlan(left.operation, first).breaches.length;
  const firstS = cpuSeconds() - startedS;
  const firstWallS = (performance.now() - startedMs) / 1000;

  const again = search(left.operation, seed, { published });
  const afresh = search(left.operation, seed);
  // What could stay as it stands under the new forecast is what a wish to keep all of it would lock.
  const lastDay = addDays(operation.settings.firstDay, days - 1);
  const untouched = replanOperation({ ...ask, told: [...ask.told], keepUntil: lastDay })
    .fates.filter(({ isLocked, fate }) => isLocked && fate === "toCome")
    .map(({ blockId }) => blockId as string);
  const keptFrac = (plan: Plan) => {
    const both = [
      { operation, plan: published },
      { operation: left.operation, plan },
    ] as const;
    const changed = new Set(
      planDifference(...both, left.fates).changes.map(({ before, orderId }) => `${orderId} ${before?.startAt}`),
    );
    return untouched.filter((id) => !changed.has(`${id.split("#")[0]} ${startOf.get(id)}`)).length / untouched.length;
  };
  const breaches = [again, afresh].reduce((sum, plan) => sum + checkPlan(left.operation, plan).breaches.length, 0);
  const withoutChange = ({ score }: Plan) => score.totalCents - (score.changeCents ?? 0);
  return {
    firstS,
    firstWallS,
    firstKeptFrac: keptFrac(first),
    firstCents: withoutChange(first),
    keptFrac: keptFrac(again),
    againCents: withoutChange(again),
    afreshCents: withoutChange(afresh),
    breaches: breaches + firstBreaches,
  };
}

/** On three of the days to come the wind of every station comes two to six hours earlier or later. */
function windMoved({ weather, settings }: Operation, random: Random): Operation["weather"] {
  const moved = new Map(
    [2, 3, 4, 5, 6]
      .toSorted(() => random() - 0.5)
      .slice(0, 3)
      .map((day) => [addDays(settings.firstDay, day), Math.round((2 + 4 * random()) * (random() < 0.5 ? -1 : 1))]),
  );
  const at = new Map(weather.map((step) => [`${step.stationId} ${Date.parse(step.start)}`, step]));
  return weather.map((step) => {
    const hours = moved.get(step.start.slice(0, settings.firstDay.length));
    const other =
      hours === undefined ? undefined : at.get(`${step.stationId} ${Date.parse(step.start) + hours * 3_600_000}`);
    if (other === undefined) return step;
    const { windKph, gustKph, windFromDeg } = other;
    return { ...step, windKph, gustKph, windFromDeg };
  });
}

function cpuSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

function cpuShare(seconds: number): () => number {
  const startedS = cpuSeconds();
  return () => (cpuSeconds() - startedS) / seconds;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
