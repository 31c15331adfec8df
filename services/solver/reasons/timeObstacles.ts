import type { Agronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement, LimitName, MinuteLimit } from "../../../shared/agronomy/limits.ts";
import type { LimitStops } from "../../../shared/agronomy/windows.ts";
import { shortDateWords } from "../../../shared/model/dateWords.ts";
import type { Obstacle } from "../../../shared/plan/plan.ts";
import type { Problem } from "../problem.ts";
import { askedOf, stopsOfGround } from "./aloneTimes.ts";

const sampleStepMin = 10;
/** Our choice: so many minutes are judged for the one at which a limit comes closest to letting the work begin. */
const mostJudged = 12;
/** Limits that stand in the inputs as dates: every one that stops something is told, not the nearest. */
const dated: readonly LimitName[] = ["closed", "entry", "rei"];
/** Our choice: a sentence names so many closures or entries. */
const mostDated = 2;

/** What stops a ground's minutes, for people. */
export interface TimeObstacles {
  /** A limit within a set, as it stands at the minute at which the set comes closest to letting the work begin. */
  obstacleOf(limit: MinuteLimit, set: readonly MinuteLimit[]): Obstacle;
  /** Hours between the order's own dates that each limit stops, most first, and the minute at which the fewest do. */
  lost(): { readonly lostHours: Readonly<Record<string, number>>; readonly nearest: Nearest | null };
  /** The first minute between the order's dates that nothing stops but these limits; undefined where there is none. */
  openWithout(limits: readonly MinuteLimit[]): number | undefined;
  datesWords(): string;
}

interface Nearest {
  readonly at: string;
  readonly judgements: readonly Judgement[];
}

/** For the first of the types that the fewest limits stop at once. */
export function createTimeObstacles(
  problem: Problem,
  agronomy: Agronomy,
  ground: number,
  types: readonly number[],
): TimeObstacles {
  const { calendar } = problem;
  const { order } = problem.orders[problem.grounds[ground]!.order]!;
  const stopsOf = stopsOfGround(problem, agronomy, ground);
  const fromMin = Math.max(0, calendar.minOfLocal(order.earliest));
  const toMin = Math.min(calendar.horizonMin, calendar.minOfLocal(order.latest));
  const fewest = (type: number) => {
    const counts = countStops(stopsOf(type, false), fromMin, toMin);
    return counts.reduce((least, count) => Math.min(least, count), Number.POSITIVE_INFINITY);
  };
  const type = types.reduce((best, next) => (fewest(next) < fewest(best) ? next : best), types[0]!);
  const rules = stopsOf(type, false);
  const asked = askedOf(problem, ground, false);
  const judge = (min: number) => agronomy.judge(order, problem.types[type]!, min, asked);

  const obstacleOf = (limit: MinuteLimit, set: readonly MinuteLimit[]): Obstacle => {
    if (limit === "dates") return { limit, sentence: `dates: ${datesWords()}`, data: datesData() };
    const isInDates = set.includes("dates");
    const [first, last] = isInDates ? [fromMin, toMin] : [0, calendar.horizonMin];
    const own = rules.find((rule) => rule.limit === limit);
    if (own === undefined) return { limit, sentence: limit, data: {} };
    const counts = countStops(
      rules.filter((rule) => set.includes(rule.limit)),
      first,
      last,
    );
    const minutes = sampled(own, first, last);
    const least = minutes.reduce((few, min) => Math.min(few, counts[countAt(min, first)]!), Number.POSITIVE_INFINITY);
    const near = thinned(minutes.filter((min) => counts[countAt(min, first)] === least));
    const judged = near.flatMap((min) => {
      const judgement = judge(min).find((one) => one.limit === limit);
      return judgement === undefined ? [] : [{ min, judgement }];
    });
    const closest = judged.reduce<(typeof judged)[number] | undefined>(
      (best, next) => (best === undefined || excess(next.judgement) < excess(best.judgement) ? next : best),
      undefined,
    );
    if (closest === undefined) return { limit, sentence: limit, data: {} };
    const { actual, allowed, unit, sentence } = closest.judgement;
    const all = dated.includes(limit) ? [...new Set(judged.map(({ judgement }) => judgement.sentence))] : [sentence];
    const more = all.length > mostDated ? `, and ${all.length - mostDated} more` : "";
    return {
      limit,
      sentence: `${all.slice(0, mostDated).join(" and ")}${more}`,
      data: {
        actual,
        allowed,
        unit,
        at: calendar.isoOfMin(closest.min),
        stoppedHours: (minutes.length * sampleStepMin) / 60,
        ofHours: Math.round(((last - first) / 60) * 100) / 100,
      },
    };
  };

  function datesData() {
    return { earliest: order.earliest, latest: order.latest };
  }

  function datesWords(): string {
    return `${whenWords(order.earliest)} to ${whenWords(order.latest)}`;
  }

  const lost = () => {
    const lostMin = rules
      .map((rule) => [rule.limit, sampled(rule, fromMin, toMin).length * sampleStepMin] as const)
      .filter(([, minutes]) => minutes > 0)
      .sort((a, b) => b[1] - a[1]);
    const counts = countStops(rules, fromMin, toMin);
    let at = 0;
    counts.forEach((count, index) => {
      if (count < counts[at]!) at = index;
    });
    const min = fromMin + at * sampleStepMin;
    return {
      lostHours: Object.fromEntries(lostMin.map(([limit, minutes]) => [limit, minutes / 60])),
      nearest: counts.length === 0 ? null : { at: calendar.isoOfMin(min), judgements: judge(min) },
    };
  };
  const openWithout = (limits: readonly MinuteLimit[]) => {
    const others = rules.filter(({ limit }) => !limits.includes(limit));
    const at = countStops(others, fromMin, toMin).indexOf(0);
    return at < 0 ? undefined : fromMin + at * sampleStepMin;
  };
  return { obstacleOf, lost, openWithout, datesWords };
}

/** Sampled minutes that a limit stops. */
function sampled({ stops }: LimitStops, fromMin: number, toMin: number): number[] {
  const minutes: number[] = [];
  for (const { startMin, endMin } of stops) {
    const first = fromMin + Math.max(0, Math.ceil((startMin - fromMin) / sampleStepMin)) * sampleStepMin;
    for (let min = first; min < Math.min(endMin, toMin); min += sampleStepMin) minutes.push(min);
  }
  return minutes;
}

function countAt(min: number, fromMin: number): number {
  return (min - fromMin) / sampleStepMin;
}

/** How many of the limits stop each sampled minute. */
function countStops(rules: readonly LimitStops[], fromMin: number, toMin: number): Uint8Array {
  const counts = new Uint8Array(Math.max(0, Math.ceil((toMin - fromMin) / sampleStepMin)));
  for (const rule of rules) {
    for (const min of sampled(rule, fromMin, toMin)) counts[countAt(min, fromMin)]!++;
  }
  return counts;
}

function thinned(minutes: readonly number[]): number[] {
  const step = Math.max(1, Math.ceil(minutes.length / mostJudged));
  return minutes.filter((_, at) => at % step === 0);
}

/** How far a figure is from what is allowed, as a share of it; words are as far as can be. */
function excess({ actual, allowed }: Judgement): number {
  if (typeof actual !== "number" || typeof allowed !== "number") return Number.MAX_VALUE;
  return Math.abs(actual - allowed) / Math.max(1e-9, Math.abs(allowed));
}

/** `Wed 16 June 14:00` of a local date and time. */
export function whenWords(local: string): string {
  const date = local.slice(0, 10);
  return `${shortDateWords(date, date)} ${local.slice(11, 16)}`;
}
