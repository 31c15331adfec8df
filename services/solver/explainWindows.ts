import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import type { Judgement, LimitName } from "../../shared/agronomy/limits.ts";
import type { Conflict, ConflictKind } from "../../shared/plan/plan.ts";
import type { Problem } from "./problem.ts";

export type Reason = Pick<Conflict, "kind" | "sentence" | "evidence">;

/** Limits that a person could move by a date or a word with the grower, and the conflict that each makes. */
const datedKinds: readonly { readonly limits: readonly LimitName[]; readonly kind: ConflictKind }[] = [
  { limits: ["phi"], kind: "harvestTooSoon" },
  { limits: ["rei", "entry"], kind: "entryTooSoon" },
  { limits: ["closed"], kind: "fieldClosed" },
  { limits: ["retreatment"], kind: "retreatment" },
];
const sampleStepMin = 10;

/** What stops a minute; none: it is open. */
interface Sample {
  readonly min: number;
  readonly limits: readonly LimitName[];
}

/** Minutes between the order's own dates for one type, and how each limit that stops one is told. */
interface Samples {
  readonly all: readonly Sample[];
  judge(min: number): readonly Judgement[];
}

/** Why no capable type has a window for the ground, or null when one has. */
export function explainWindows(
  problem: Problem,
  agronomy: Agronomy,
  ground: number,
  types: readonly number[],
): Reason | null {
  const typeCount = problem.types.length;
  const hasWindow = types.some((type) =>
    [0, 1].some((night) => (problem.windows[(ground * typeCount + type) * 2 + night]?.length ?? 0) > 0),
  );
  if (hasWindow) return null;
  const { order } = problem.orders[problem.grounds[ground]!.order]!;
  const { calendar } = problem;
  const fromMin = Math.max(0, calendar.minOfLocal(order.earliest));
  const toMin = Math.min(calendar.horizonMin, calendar.minOfLocal(order.latest));
  // The type that the most minutes would let fly speaks for all.
  const samplesByType = types.map((type) => sample(problem, agronomy, ground, type, fromMin, toMin));
  const samples = samplesByType.reduce((best, next) => (nearness(next) < nearness(best) ? next : best));
  if (samples.all.length === 0) {
    return {
      kind: "contradiction",
      sentence: `its dates leave nothing of this plan's days: earliest ${order.earliest}, latest ${order.latest}`,
      evidence: {
        earliest: order.earliest,
        latest: order.latest,
        firstDay: calendar.dates[0],
        days: calendar.dates.length,
      },
    };
  }
  return allStopped(samples) ?? openedByOne(problem, samples) ?? lostByWeather(problem, samples);
}

function sample(
  problem: Problem,
  agronomy: Agronomy,
  ground: number,
  type: number,
  fromMin: number,
  toMin: number,
): Samples {
  const { order: index, isRest } = problem.grounds[ground]!;
  const { order } = problem.orders[index]!;
  const asked = isRest ? { night: false, rest: true as const } : { night: false };
  const rules = agronomy.stops(order, problem.types[type]!, asked).filter(({ stops }) => stops.length > 0);
  const next = rules.map(() => 0);
  const all: Sample[] = [];
  for (let min = fromMin; min < toMin; min += sampleStepMin) {
    const limits: LimitName[] = [];
    for (let rule = 0; rule < rules.length; rule++) {
      const { limit, stops } = rules[rule]!;
      let at = next[rule]!;
      while (at < stops.length && stops[at]!.endMin <= min) at++;
      next[rule] = at;
      if (at < stops.length && stops[at]!.startMin <= min) limits.push(limit);
    }
    all.push({ min, limits });
  }
  return { all, judge: (min) => agronomy.judge(order, problem.types[type]!, min, asked) };
}

function nearness({ all }: Samples): number {
  return all.reduce((least, { limits }) => Math.min(least, limits.length), Number.POSITIVE_INFINITY);
}

/** One dated limit stops every minute between the order's own dates: harvest against dates contradict each other outright. */
function allStopped({ all, judge }: Samples): Reason | null {
  for (const { limits: dated, kind } of datedKinds) {
    if (!all.every(({ limits }) => limits.some((limit) => dated.includes(limit)))) continue;
    const first = judge(all[0]!.min).find(({ limit }) => dated.includes(limit))!;
    return {
      kind: kind === "harvestTooSoon" ? "contradiction" : kind,
      sentence:
        kind === "harvestTooSoon"
          ? `every minute between earliest and latest is too near the harvest: ${first.sentence}`
          : `every minute between earliest and latest is stopped: ${first.sentence}`,
      evidence: { judgement: first },
    };
  }
  return null;
}

/** The dated limit that alone stops the most minutes: without it the order could be done. */
function openedByOne(problem: Problem, { all, judge }: Samples): Reason | null {
  const alone = datedKinds.map(({ limits: dated, kind }) => ({
    kind,
    samples: all.filter(({ limits }) => limits.every((limit) => dated.includes(limit))),
  }));
  const most = alone.reduce((best, next) => (next.samples.length > best.samples.length ? next : best));
  const first = most.samples[0];
  if (first === undefined) return null;
  const judgement = judge(first.min)[0]!;
  return {
    kind: most.kind,
    sentence: `${judgement.sentence}; without that it could be done from ${when(problem, first.min)}`,
    evidence: { judgement, openHours: (most.samples.length * sampleStepMin) / 60 },
  };
}

function lostByWeather(problem: Problem, { all, judge }: Samples): Reason {
  const lostHours = new Map<LimitName, number>();
  for (const { limits } of all) {
    for (const limit of limits) lostHours.set(limit, (lostHours.get(limit) ?? 0) + sampleStepMin / 60);
  }
  const lost = [...lostHours].sort((a, b) => b[1] - a[1]);
  const nearest = all.reduce((best, next) => (next.limits.length < best.limits.length ? next : best));
  const judgements = judge(nearest.min);
  return {
    kind: "noWindow",
    sentence: `no hour between its dates is open: ${lost
      .map(([limit, hours]) => `${limit} ${Math.round(hours)} h`)
      .join(", ")}; nearest ${when(problem, nearest.min)}: ${judgements.map(({ sentence }) => sentence).join(", ")}`,
    evidence: {
      lostHours: Object.fromEntries(lost),
      nearest: { at: problem.calendar.isoOfMin(nearest.min), judgements },
    },
  };
}

function when(problem: Problem, min: number): string {
  return `${problem.calendar.dateOfMin(min)} ${problem.calendar.clockOfMin(min)}`;
}
