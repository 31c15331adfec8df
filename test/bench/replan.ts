import { loadHighs } from "../../services/linear/highs.ts";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import {
  type Before,
  planFromSnapshot,
  planOperation,
  prepareOperation,
  startOf,
} from "../../services/solver/planOperation.ts";
import { polishWith } from "../../services/solver/polish.ts";
import { createRandom, type Random } from "../../services/solver/random.ts";
import { snapshotOf } from "../../services/solver/snapshot.ts";
import { addDays, createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { moneyWords } from "../../shared/plan/words.ts";
import { asTold } from "../../shared/replan/happened.ts";
import { planDifference } from "../../shared/replan/planDifference.ts";
import { replanOperation } from "../../shared/replan/replanOperation.ts";
import { median } from "./measure.ts";
import { ordersPerCrew } from "./weeks/runWeek.ts";

export interface ReplanOptions {
  readonly orders: number;
  /** Of the processor, for every plan. */
  readonly seconds: number;
  readonly seeds: number;
}

interface Row {
  readonly firstS: number;
  readonly firstWallS: number;
  readonly keptFrac: number;
  readonly againCents: number;
  readonly afreshCents: number;
  readonly breaches: number;
}

const days = 7;

/** A week that crews go by, then, on its third morning, a forecast in which the wind comes some hours earlier or later on some days. False when the checker finds anything. */
export async function benchReplan({ orders, seconds, seeds }: ReplanOptions): Promise<boolean> {
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
    const operation = generateOperation({ orders, crews: Math.max(1, Math.round(orders / ordersPerCrew)), days, seed });
    const published = search(operation, seed);
    const row = replanned(operation, published, seed, search);
    rows.push(row);
    const { firstS, firstWallS, keptFrac, againCents, afreshCents, breaches } = row;
    console.log(
      `seed ${seed}: first checked answer after ${firstS.toFixed(1)} s (${firstWallS.toFixed(1)}), ${percent(keptFrac)} of untouched stops kept, ${moneyWords(againCents)} beside ${moneyWords(afreshCents)} afresh (${percent(againCents / afreshCents - 1)}), ${breaches} breaches`,
    );
  }
  const mid = (of: (row: Row) => number) => median(rows.map(of));
  console.log(
    `median: ${mid(({ firstS }) => firstS).toFixed(1)} s (${mid(({ firstWallS }) => firstWallS).toFixed(1)}), ${percent(mid(({ keptFrac }) => keptFrac))} kept, ${percent(mid(({ againCents, afreshCents }) => againCents / afreshCents - 1))} dearer than afresh`,
  );
  return rows.every(({ breaches }) => breaches === 0);
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

  const startedMs = performance.now();
  const startedS = cpuSeconds();
  const left = replanOperation({ ...ask, told: [...ask.told] });
  const prepared = prepareOperation(left.operation, published);
  const start = snapshotOf(prepared.problem, startOf(prepared, { published })!);
  const first = planFromSnapshot(prepared, start, { seed, iterations: 0 }, null);
  const firstBreaches = checkPlan(left.operation, first).breaches.length;
  const firstS = cpuSeconds() - startedS;
  const firstWallS = (performance.now() - startedMs) / 1000;

  const again = search(left.operation, seed, { published });
  const afresh = search(left.operation, seed);
  const difference = planDifference(
    { operation, plan: published },
    { operation: left.operation, plan: again },
    left.fates,
  );
  // What could stay as it stands under the new forecast is what a wish to keep all of it would lock.
  const lastDay = addDays(operation.settings.firstDay, days - 1);
  const untouched = replanOperation({ ...ask, told: [...ask.told], keepUntil: lastDay }).fates.filter(
    ({ isLocked, fate }) => isLocked && fate === "toCome",
  );
  const changed = new Set(
    difference.changes
      .filter(({ before }) => before !== null)
      .map(({ before, orderId }) => `${orderId} ${before!.startAt}`),
  );
  const startOfStop = new Map(
    published.crewDays.flatMap(({ activities }) =>
      activities.flatMap((one) =>
        one.kind === "work" ? [[one.blockId as string, calendar.isoOfMin(one.startMin)] as const] : [],
      ),
    ),
  );
  const kept = untouched.filter(({ blockId }) => !changed.has(`${blockId.split("#")[0]} ${startOfStop.get(blockId)}`));
  const breaches = [again, afresh].reduce((sum, plan) => sum + checkPlan(left.operation, plan).breaches.length, 0);
  const withoutChange = ({ score }: Plan) => score.totalCents - (score.changeCents ?? 0);
  return {
    firstS,
    firstWallS,
    keptFrac: kept.length / untouched.length,
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
