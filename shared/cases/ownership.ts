import { discountedPaybackYears, simplePaybackYears } from "../economics/payback.ts";
import type { CasesFile } from "./cases.ts";
import type { Difference, Ownership } from "./comparison.ts";
import type { YearlyCosts } from "./yearlyCosts.ts";

/** What a case brings a year beside what it costs to own. It pays, or does not, where the whole interval says so and the difference is clear. */
export function ownershipOf(
  { mean, interval95, isClear }: Difference,
  { ownershipCentsPerYear, priceCents, hireCentsPerYear }: YearlyCosts,
  { weeksPerYear, interestPct }: Pick<CasesFile, "weeksPerYear" | "interestPct">,
): Ownership {
  const extraMarginCentsPerYear = mean * weeksPerYear;
  const ofYear: Ownership["interval95"] =
    interval95 === null ? null : [interval95[0] * weeksPerYear, interval95[1] * weeksPerYear];
  const verdict = verdictOf(ofYear, isClear, ownershipCentsPerYear);
  const gainBeforeOwning = extraMarginCentsPerYear - hireCentsPerYear;
  const simple = priceCents === null || !isClear ? null : simplePaybackYears(priceCents, gainBeforeOwning);
  return {
    ownershipCentsPerYear,
    priceCents,
    extraMarginCentsPerYear,
    interval95: ofYear,
    gainCentsPerYear: extraMarginCentsPerYear - ownershipCentsPerYear,
    verdict,
    paybackYears:
      simple === null
        ? null
        : { simple, discounted: discountedPaybackYears(priceCents!, gainBeforeOwning, interestPct / 100) },
  };
}

/** A difference that is not clear counts as none: it pays nothing back, and saves what it does not cost. */
function verdictOf(interval95: Ownership["interval95"], isClear: boolean, costCents: number): Ownership["verdict"] {
  if (interval95 === null) return "notClear";
  const [lower, upper] = interval95;
  if (lower > costCents && (isClear || costCents < 0)) return "pays";
  return upper < costCents ? "doesNotPay" : "notClear";
}
