import type { CaseOutcome, Difference, Ownership } from "./comparison.ts";

type Compared = Pick<CaseOutcome, "name" | "differences" | "changesNothing">;

/** What a case brings, in one sentence for the owner. Money is in whole units of the currency: nobody buys by the cent. */
export function caseSentence(
  { name, differences, changesNothing }: Compared,
  ownership: Ownership | null,
  currency: string,
): string {
  if (differences === null || ownership === null)
    return `${name}: no plan that could be held against one of the operation as it is.`;
  if (changesNothing) return `${name}: brings nothing, every plan is the same${idleWords(ownership, currency)}.`;
  const { servedHa, marginCents } = differences;
  const hectares = moreWords(servedHa, "ha", 1);
  const margin = moreWords(marginCents, currency, 100, " margin");
  if (marginCents.isClear) {
    const found = servedHa.isClear ? hectares : "no clear difference in hectares";
    return `${name}: ${found}, ${margin}, ${yearWords(ownership, currency)}.`;
  }
  const found = servedHa.isClear
    ? `${hectares}, but no clear difference in margin: ${margin}`
    : `no clear difference: ${hectares}, ${margin}`;
  return `${name}: ${found}${unclearWords(ownership, currency)}.`;
}

/** "61 ha more a week (54 to 70)"; where the interval holds zero "3 ha more a week (12 less to 18 more)". */
function moreWords({ mean, interval95 }: Difference, unit: string, per: number, of = ""): string {
  const shown = (value: number) => String(Math.abs(Math.round(value / per)));
  const direction = (value: number) => (Math.round(value / per) < 0 ? "less" : "more");
  const words = `${shown(mean)} ${unit} ${direction(mean)}${of} a week`;
  if (interval95 === null) return `${words} in a single pair of plans`;
  const [lower, upper] = interval95;
  if (lower < 0 && upper > 0) return `${words} (${shown(lower)} less to ${shown(upper)} more)`;
  const [near, far] = mean < 0 ? [upper, lower] : [lower, upper];
  return `${words} (${shown(near)} to ${shown(far)})`;
}

/** Cents in whole units of the currency. */
export function whole(cents: number): string {
  return String(Math.round(cents / 100));
}

const size = (cents: number) => whole(Math.abs(cents));

function yearWords(ownership: Ownership, currency: string): string {
  const { extraMarginCentsPerYear, ownershipCentsPerYear } = ownership;
  const year = `${size(extraMarginCentsPerYear)} ${currency}${extraMarginCentsPerYear < 0 ? " less" : ""} a year`;
  if (ownershipCentsPerYear === 0) return year;
  const own =
    ownershipCentsPerYear > 0
      ? ` against ${size(ownershipCentsPerYear)} to own it`
      : ` against ${size(ownershipCentsPerYear)} saved by not owning it`;
  return `${year}${own}: ${verdictWords(ownership)}`;
}

export function verdictWords({ verdict, paybackYears }: Ownership): string {
  if (verdict === "doesNotPay") return "does not pay";
  if (verdict === "notClear") return "whether it pays is not clear";
  if (paybackYears === null) return "pays";
  const { simple, discounted } = paybackYears;
  const withInterest = discounted === null ? "never with interest" : `${discounted.toFixed(1)} with interest`;
  return `pays back in ${simple.toFixed(1)} years (${withInterest})`;
}

function idleWords({ ownershipCentsPerYear }: Ownership, currency: string): string {
  if (ownershipCentsPerYear === 0) return "";
  return ownershipCentsPerYear > 0
    ? `, and costs ${size(ownershipCentsPerYear)} ${currency} a year to own`
    : `, and saves ${size(ownershipCentsPerYear)} ${currency} a year by not owning it`;
}

function unclearWords(ownership: Ownership, currency: string): string {
  if (ownership.ownershipCentsPerYear === 0) return "";
  const own = ownership.ownershipCentsPerYear > 0 ? "to own it costs" : "not owning it saves";
  return `; ${own} ${size(ownership.ownershipCentsPerYear)} ${currency} a year: ${verdictWords(ownership)}`;
}
