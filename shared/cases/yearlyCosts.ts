import { ownershipCentsPerYear } from "../economics/ownership.ts";
import type { Operation } from "../model/operation.ts";
import { sumOf } from "../plan/totals.ts";
import type { Buy } from "./cases.ts";

/** What owning costs more a year than it does now. */
export interface YearlyCosts {
  readonly ownershipCentsPerYear: number;
  /** What is paid at once; null where nothing says it. */
  readonly priceCents: number | null;
  /** Of what is paid every year, the part that buys nothing, such as hire. */
  readonly hireCentsPerYear: number;
}

export function costsOfBuys(buys: readonly Buy[], interestPct: number): YearlyCosts {
  const hireCentsPerYear = sumOf(buys, ({ perYearCents = 0 }) => perYearCents);
  const bought = sumOf(buys, ({ priceCents, years, salvageCents = 0 }) =>
    priceCents === undefined || years === undefined
      ? 0
      : ownershipCentsPerYear({ priceCents, years, salvageCents }, interestPct / 100),
  );
  const prices = buys.flatMap(({ priceCents }) => priceCents ?? []);
  return {
    ownershipCentsPerYear: hireCentsPerYear + bought,
    priceCents: prices.length === 0 ? null : sumOf(prices, (cents) => cents),
    hireCentsPerYear,
  };
}

/** What the types of aircraft say of what changes hands, where the case itself says nothing. */
export function costsOfFleet(before: Operation, after: Operation): YearlyCosts {
  const owned = ({ fleet }: Operation) =>
    sumOf(fleet.aircraft, ({ typeId }) => fleet.aircraftTypes.find(({ id }) => id === typeId)!.ownershipCentsPerYear);
  return { ownershipCentsPerYear: owned(after) - owned(before), priceCents: null, hireCentsPerYear: 0 };
}
