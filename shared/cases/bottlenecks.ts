import type { Operation } from "../model/operation.ts";
import type { ConflictKind, Plan } from "../plan/plan.ts";
import { sumOf, valuesPerHa } from "../plan/totals.ts";
import { meanOf, standardDeviation } from "../statistics/moments.ts";
import { isClear, type PairedDifference, pairedDifference } from "../statistics/pairs.ts";
import { changesWords } from "./changeWords.ts";
import { onlyToKnow, type Unit } from "./units.ts";

/** A search from the present plan. */
export interface PlannedAgain {
  readonly seed: number;
  readonly totalCents: number;
  readonly servedHa: number;
}

export type AgainOutcome =
  | { readonly ok: true; readonly runs: readonly PlannedAgain[] }
  | { readonly ok: false; readonly message: string; readonly isLost?: true };

/** What a unit brought when the week was planned with it, beside the same searches without. */
export interface Realised {
  /** Cents saved, search by search. */
  readonly cents: PairedDifference;
  /** Between searches without the unit. */
  readonly spreadCents: number | null;
  /** False: no clear difference. */
  readonly isClear: boolean;
  /** Hectares more on the average. */
  readonly areaHa: number;
}

/** One more of something: what it would bring by the linear relaxation, and what it brought. */
export interface BottleneckRow {
  readonly kind: Unit["kind"];
  readonly words: string;
  /** Nothing that anybody could do. */
  readonly onlyToKnow: boolean;
  readonly atMostCents: number;
  /** Null where it was not estimated. */
  readonly aboutCents: number | null;
  /** The same as hectares of what is left out for want of hours or things; null where nothing is. */
  readonly aboutHa: number | null;
  /** Null where it was not tried. */
  readonly realised: Realised | null;
  /** Why trying came to nothing. */
  readonly failed: string | null;
}

export interface Predicted {
  readonly unit: Unit;
  readonly atMostCents: number;
  readonly cents: number | null;
}

export function bottleneckRow(
  operation: Operation,
  { unit, atMostCents, cents }: Predicted,
  centsPerHa: number | null,
  tried: { readonly before: AgainOutcome; readonly after: AgainOutcome } | null,
): BottleneckRow {
  const failed =
    tried === null ? null : !tried.before.ok ? tried.before.message : !tried.after.ok ? tried.after.message : null;
  return {
    kind: unit.kind,
    words: unit.words ?? changesWords(operation, unit.changes),
    onlyToKnow: onlyToKnow.has(unit.kind),
    atMostCents,
    aboutCents: cents,
    aboutHa: cents === null || centsPerHa === null ? null : cents / centsPerHa,
    realised: tried?.before.ok && tried.after.ok ? realisedOf(tried.before.runs, tried.after.runs) : null,
    failed,
  };
}

function realisedOf(before: readonly PlannedAgain[], after: readonly PlannedAgain[]): Realised {
  const cents = pairedDifference(before.map(({ totalCents }, at) => totalCents - after[at]!.totalCents));
  const spreadCents = standardDeviation(before.map(({ totalCents }) => totalCents));
  return {
    cents,
    spreadCents,
    isClear: isClear(cents, spreadCents),
    areaHa: meanOf(after.map(({ servedHa }) => servedHa)) - meanOf(before.map(({ servedHa }) => servedHa)),
  };
}

/** Conflicts that more hours or more things could end. */
const forWantOfMore: readonly ConflictKind[] = ["notEnoughHours", "equipmentShort"];

/** What a hectare of what is left out for want of hours or things is worth on the average; null where nothing is. */
export function leftOutCentsPerHa(operation: Operation, { conflicts }: Pick<Plan, "conflicts">): number | null {
  const centsPerHaOf = valuesPerHa(operation);
  const short = conflicts.filter(({ kind }) => forWantOfMore.includes(kind));
  const areaHa = sumOf(short, (conflict) => conflict.areaHa);
  const cents = sumOf(short, (conflict) => {
    const order = operation.orders.find(({ id }) => id === conflict.orderId)!;
    return conflict.areaHa * centsPerHaOf(order);
  });
  return areaHa === 0 || cents === 0 ? null : cents / areaHa;
}
