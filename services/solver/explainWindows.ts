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

interface Sample {
  readonly min: number;
  readonly judgements: readonly Judgement[];
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
  if (samples.length === 0) {
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
): Sample[] {
  const { order: index, isRest } = problem.grounds[ground]!;
  const { order } = problem.orders[index]!;
  const asked = isRest ? { night: false, rest: true as const } : { night: false };
  const samples: Sample[] = [];
  for (let min = fromMin; min < toMin; min += sampleStepMin) {
    samples.push({ min, judgements: agronomy.judge(order, problem.types[type]!, min, asked) });
  }
  return samples;
}

function nearness(samples: readonly Sample[]): number {
  return Math.min(Number.POSITIVE_INFINITY, ...samples.map(({ judgements }) => judgements.length));
}

/** One dated limit stops every minute between the order's own dates: harvest against dates contradict each other outright. */
function allStopped(samples: readonly Sample[]): Reason | null {
  for (const { limits, kind } of datedKinds) {
    const stopping = samples.map(({ judgements }) => judgements.find(({ limit }) => limits.includes(limit)));
    const first = stopping[0];
    if (first === undefined || stopping.some((judgement) => judgement === undefined)) continue;
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
function openedByOne(problem: Problem, samples: readonly Sample[]): Reason | null {
  const alone = datedKinds.map(({ limits, kind }) => ({
    kind,
    samples: samples.filter(({ judgements }) => judgements.every(({ limit }) => limits.includes(limit))),
  }));
  const most = alone.reduce((best, next) => (next.samples.length > best.samples.length ? next : best));
  const first = most.samples[0];
  if (first === undefined) return null;
  return {
    kind: most.kind,
    sentence: `${first.judgements[0]!.sentence}; without that it could be done from ${when(problem, first.min)}`,
    evidence: { judgement: first.judgements[0], openHours: (most.samples.length * sampleStepMin) / 60 },
  };
}

function lostByWeather(problem: Problem, samples: readonly Sample[]): Reason {
  const lostHours = new Map<LimitName, number>();
  for (const { judgements } of samples) {
    for (const { limit } of judgements) lostHours.set(limit, (lostHours.get(limit) ?? 0) + sampleStepMin / 60);
  }
  const lost = [...lostHours].sort((a, b) => b[1] - a[1]);
  const nearest = samples.reduce((best, next) => (next.judgements.length < best.judgements.length ? next : best));
  return {
    kind: "noWindow",
    sentence: `no hour between its dates is open: ${lost
      .map(([limit, hours]) => `${limit} ${Math.round(hours)} h`)
      .join(
        ", ",
      )}; nearest ${when(problem, nearest.min)}: ${nearest.judgements.map(({ sentence }) => sentence).join(", ")}`,
    evidence: {
      lostHours: Object.fromEntries(lost),
      nearest: { at: problem.calendar.isoOfMin(nearest.min), judgements: nearest.judgements },
    },
  };
}

function when(problem: Problem, min: number): string {
  return `${problem.calendar.dateOfMin(min)} ${problem.calendar.clockOfMin(min)}`;
}
