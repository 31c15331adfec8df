import type { OrderWindows } from "../../../../../shared/contracts/windows.ts";

type Hour = OrderWindows["hours"][number];
type Judgement = Hour["judgements"][number];

/** An hour as the clocks of the operation show it. */
export interface ShownHour {
  readonly clock: string;
  readonly endClock: string;
  readonly openMin: number;
  readonly ofMin: number;
  readonly judgements: readonly Judgement[];
}

export interface HoursOfDay {
  readonly date: string;
  readonly openMin: number;
  readonly hours: readonly ShownHour[];
}

/** What one limit closes of a day. */
export interface ClosingLimit {
  readonly limit: Judgement["limit"];
  /** By hour of the day. */
  readonly closes: readonly boolean[];
  /** `10:00 to 18:00`, one for each run of hours. */
  readonly spans: readonly { readonly from: string; readonly to: string }[];
  /** Where there are no figures to tell which is worst: the first. */
  readonly worst: { readonly clock: string; readonly sentence: string; readonly hasFigures: boolean };
}

// The server writes moments with the offset of their own place, so that what stands there is what clocks show.
const dateOf = (iso: string) => iso.slice(0, 10);
const clockOf = (iso: string) => iso.slice(11, 16);

export function byDay(hours: OrderWindows["hours"]): HoursOfDay[] {
  const days = new Map<string, ShownHour[]>();
  for (const { end, endMin, judgements, openMin, start, startMin } of hours) {
    const date = dateOf(start);
    const shown = { clock: clockOf(start), endClock: clockOf(end), openMin, ofMin: endMin - startMin, judgements };
    days.set(date, [...(days.get(date) ?? []), shown]);
  }
  return [...days].map(([date, ofDay]) => ({
    date,
    hours: ofDay,
    openMin: ofDay.reduce((sum, { openMin }) => sum + openMin, 0),
  }));
}

/** Which limits close what of the day, those that close the most hours first. */
export function closingLimits({ hours }: Pick<HoursOfDay, "hours">): ClosingLimit[] {
  const limits = [...new Set(hours.flatMap(({ judgements }) => judgements.map(({ limit }) => limit)))];
  return limits
    .map((limit) => {
      const judged = hours.map(({ judgements }) => judgements.find((one) => one.limit === limit));
      const closes = judged.map((one) => one !== undefined);
      const worstAt = judged.reduce((best, one, at) => (excess(one) > excess(judged[best]) ? at : best), 0);
      return {
        limit,
        closes,
        spans: runsOf(closes).map(([from, to]) => ({ from: hours[from]!.clock, to: hours[to]!.endClock })),
        worst: {
          clock: hours[worstAt]!.clock,
          sentence: judged[worstAt]!.sentence,
          hasFigures: excess(judged[worstAt]) > 0,
        },
      };
    })
    .sort((a, b) => count(b.closes) - count(a.closes));
}

const count = (closes: readonly boolean[]) => closes.filter(Boolean).length;

/** How far beyond what is allowed; limits without figures are all alike. */
function excess(judgement: Judgement | undefined): number {
  if (judgement === undefined) return -1;
  const { actual, allowed } = judgement;
  return typeof actual === "number" && typeof allowed === "number" ? Math.abs(actual - allowed) : 0;
}

/** First and last place of every run of what is closed. */
function runsOf(closes: readonly boolean[]): [number, number][] {
  const runs: [number, number][] = [];
  for (const [at, isClosed] of closes.entries()) {
    if (!isClosed) continue;
    if (at > 0 && closes[at - 1]) runs.at(-1)![1] = at;
    else runs.push([at, at]);
  }
  return runs;
}
