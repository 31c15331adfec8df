import { type Agronomy, createAgronomy } from "../agronomy/agronomy.ts";
import { sunDay } from "../agronomy/sun.ts";
import { addDays } from "../model/calendar.ts";
import { type Weekday, weekdayOf } from "../model/dateWords.ts";
import type { Operation } from "../model/operation.ts";
import { caution } from "./caution.ts";
import { type ChangeView, changeViews } from "./changeView.ts";
import { clockShiftMin, type LocalTime, localTimeOf } from "./localTime.ts";
import { sleepsAtWords } from "./nights.ts";
import { outfitWords } from "./outfitWords.ts";
import { pausesOf } from "./pauseView.ts";
import type { Activity, ConflictKind, CrewDay, Plan } from "./plan.ts";
import { conflictKinds } from "./plan.ts";
import { indexPlan, type PlanIndex } from "./planIndex.ts";
import { proofWords } from "./proof.ts";
import { type ScorePartName, scorePartNames, scorePartWords } from "./scoreParts.ts";
import { crewDayTotals, sumOf } from "./totals.ts";
import { type ConflictView, conflictView, type OrderView, orderViews, type StopView, stopView } from "./weekOrders.ts";
import { conflictWords } from "./words.ts";

/** What of the checker's report the view counts, as it comes from the checker or from the store. */
export interface CheckedPlan {
  readonly ok: boolean;
  readonly checked: Readonly<Record<string, number>>;
  readonly breaches: readonly { readonly rule: string; readonly sentence: string }[];
}

export interface DayView {
  readonly date: string;
  readonly weekday: Weekday;
  /** At the first base; null when the sun does not rise or does not set on that date. */
  readonly sunrise: LocalTime | null;
  readonly sunset: LocalTime | null;
  /** Minutes that the clocks go forward (positive) or back on this date. */
  readonly clockShiftMin: number;
}

export interface SpanView {
  readonly kind: Activity["kind"];
  readonly start: LocalTime;
  readonly end: LocalTime;
}

export interface CrewDayView {
  readonly outfit: string;
  readonly outfitShort: string;
  readonly leave: LocalTime;
  readonly back: LocalTime;
  readonly dutyMin: number;
  readonly workMin: number;
  readonly roadKm: number;
  readonly areaHa: number;
  readonly stops: readonly StopView[];
  readonly spans: readonly SpanView[];
  /** Name of the base at which the crew sleeps away from home after this day; null when it comes home. */
  readonly sleepsAt: string | null;
}

export interface CrewDayCell {
  readonly date: string;
  /** The crew's shift on the date, or null on a day off. */
  readonly shift: { readonly from: string; readonly to: string } | null;
  readonly crewDay: CrewDayView | null;
}

export interface CrewView {
  readonly id: string;
  readonly name: string;
  readonly base: string;
  readonly days: readonly CrewDayCell[];
}

export interface ScorePart {
  readonly part: ScorePartName;
  readonly words: string;
  readonly cents: number;
}

export interface WeekView {
  readonly caution: string;
  readonly operationName: string;
  readonly timeZone: string;
  readonly currency: string;
  readonly days: readonly DayView[];
  readonly crews: readonly CrewView[];
  readonly orders: readonly OrderView[];
  readonly conflicts: readonly ConflictView[];
  readonly conflictsByKind: readonly {
    readonly kind: ConflictKind;
    readonly words: string;
    readonly count: number;
    readonly areaHa: number;
  }[];
  /** What is otherwise than published. */
  readonly changes: readonly ChangeView[];
  /** What the dispatcher has locked and what does not hold. */
  readonly brokenLocks: readonly {
    readonly crewName: string;
    readonly date: string;
    /** Its blocks that are not planned, or that it is about the outfit or ground that is not there. */
    readonly what: string;
    readonly sentence: string;
  }[];
  readonly score: { readonly parts: readonly ScorePart[]; readonly totalCents: number };
  /** What is proven of its cost, for people. */
  readonly proof: string;
  readonly servedHa: number;
  readonly orderedHa: number;
  /** servedHa of orderedHa; 1 when nothing can be ordered. */
  readonly servedFrac: number;
  readonly roadKm: number;
  readonly dutyMin: number;
  readonly check: {
    readonly ok: boolean;
    /** Rules that the plan gave an occasion to check, and how often they were checked. */
    readonly rules: number;
    readonly checks: number;
    readonly breaches: CheckedPlan["breaches"];
  };
}

export function weekView(operation: Operation, plan: Plan, report: CheckedPlan): WeekView {
  const index = indexPlan(operation, plan);
  const conflicts = plan.conflicts.map((conflict) => conflictView(index, conflict));
  const { score } = plan;
  let agronomy: Agronomy | undefined;
  const agronomyOf = () => {
    agronomy ??= createAgronomy(operation, index.calendar);
    return agronomy;
  };
  return {
    caution,
    operationName: operation.settings.name,
    timeZone: operation.settings.timeZone,
    currency: operation.settings.currency,
    days: index.calendar.dates.map((date) => dayView(index, date)),
    crews: operation.fleet.crews.map((crew) => ({
      id: crew.id,
      name: crew.name,
      base: index.base(crew.baseId).name,
      days: index.calendar.dates.map((date) => {
        const shift = crew.shifts.find((one) => one.date === date);
        const crewDay = plan.crewDays.find((one) => one.crewId === crew.id && one.date === date);
        return {
          date,
          shift: shift === undefined ? null : { from: shift.from, to: shift.to },
          crewDay: crewDay === undefined ? null : crewDayView(index, agronomyOf, crewDay),
        };
      }),
    })),
    orders: orderViews(index, plan, conflicts),
    conflicts,
    conflictsByKind: conflictKinds
      .map((kind) => {
        const ofKind = conflicts.filter((conflict) => conflict.kind === kind);
        return {
          kind,
          words: conflictWords[kind],
          count: ofKind.length,
          areaHa: sumOf(ofKind, (conflict) => conflict.areaHa),
        };
      })
      .filter(({ count }) => count > 0),
    changes: changeViews(index, plan),
    brokenLocks: (plan.brokenLocks ?? []).map(({ crewId, date, blockIds, sentence }) => ({
      crewName: index.crew(crewId).name,
      date,
      what: blockIds.join(", ") || "what is locked of the day",
      sentence,
    })),
    score: {
      parts: scorePartNames.map((part) => ({ part, words: scorePartWords[part], cents: score[part] ?? 0 })),
      totalCents: score.totalCents,
    },
    proof: proofWords(plan.proof, operation.settings.currency),
    servedHa: score.servedHa,
    orderedHa: score.orderedHa,
    servedFrac: score.orderedHa > 0 ? score.servedHa / score.orderedHa : 1,
    roadKm: score.roadKm,
    dutyMin: score.dutyMin,
    check: {
      ok: report.ok,
      rules: Object.values(report.checked).filter((times) => times > 0).length,
      checks: sumOf(Object.values(report.checked), (times) => times),
      breaches: report.breaches.map(({ rule, sentence }) => ({ rule, sentence })),
    },
  };
}

function dayView(index: PlanIndex, date: string): DayView {
  const { latDeg, lonDeg } = index.operation.settings.bases[0]!;
  const sun = sunDay(index.calendar, date, latDeg, lonDeg).horizon;
  return {
    date,
    weekday: weekdayOf(date),
    sunrise: sun.kind === "crosses" ? localTimeOf(index.calendar, sun.upMin) : null,
    sunset: sun.kind === "crosses" ? localTimeOf(index.calendar, sun.downMin) : null,
    clockShiftMin: clockShiftMin(index.calendar, date, addDays(date, 1)),
  };
}

export function crewDayView(index: PlanIndex, agronomyOf: () => Agronomy, crewDay: CrewDay): CrewDayView {
  const time = (min: number) => localTimeOf(index.calendar, min);
  const outfit = outfitWords(index, crewDay.outfit);
  const stops = index.stops.filter((stop) => stop.crewDay === crewDay);
  const totals = crewDayTotals(crewDay, index.blocks);
  return {
    outfit: outfit.line,
    outfitShort: outfit.short,
    leave: time(totals.startMin),
    back: time(totals.endMin),
    dutyMin: totals.dutyMin,
    workMin: totals.workMin,
    roadKm: totals.roadKm,
    areaHa: totals.areaHa,
    stops: stops.map((stop) => stopView(index, stop, pausesOf(index, agronomyOf, stop))),
    spans: crewDay.activities.map(({ kind, startMin, endMin }) => ({
      kind,
      start: time(startMin),
      end: time(endMin),
    })),
    sleepsAt: sleepsAtWords(index, crewDay),
  };
}
