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
  if (!marginCents.isClear) {
    const found = servedHa.isClear ? `${hectares}, but no clear difference in margin` : "no clear difference";
    const measured = [...(servedHa.isClear ? [] : [hectares]), margin].join(", ");
    return `${name}: ${found} (${measured})${unclearWords(ownership, currency)}.`;
  }
  const both = [servedHa.isClear ? hectares : "no clear difference in hectares", margin].join(", ");
  return `${name}: ${both}, ${yearWords(ownership, currency)}.`;
}

/** "61 ha more a week (54 to 70)"; where the interval holds zero "3 ha more a week (12 less to 18 more)". */
function moreWords({ mean, interval95 }: Difference, unit: string, per: number, of = ""): string {
  const shown = (value: number) => String(Math.abs(Math.round(value / per)));
  const direction = (value: number) => (value < 0 ? "less" : "more");
  const words = `${shown(mean)} ${unit} ${direction(mean)}${of} a week`;
  if (interval95 === null) return `${words} in a single pair of plans`;
  const [lower, upper] = interval95;
  if (lower < 0 && upper > 0) return `${words}, ${shown(lower)} less to ${shown(upper)} more`;
  const [near, far] = mean < 0 ? [upper, lower] : [lower, upper];
  return `${words} (${shown(near)} to ${shown(far)})`;
}

function whole(cents: number): string {
  return String(Math.round(Math.abs(cents) / 100));
}

function yearWords(ownership: Ownership, currency: string): string {
  const { extraMarginCentsPerYear, ownershipCentsPerYear } = ownership;
  const year = `${whole(extraMarginCentsPerYear)} ${currency}${extraMarginCentsPerYear < 0 ? " less" : ""} a year`;
  if (ownershipCentsPerYear === 0) return year;
  const own =
    ownershipCentsPerYear > 0
      ? ` against ${whole(ownershipCentsPerYear)} to own it`
      : ` against ${whole(ownershipCentsPerYear)} saved by not owning it`;
  return `${year}${own}: ${verdictWords(ownership)}`;
}

function verdictWords({ verdict, paybackYears }: Ownership): string {
  if (verdict === "doesNotPay") return "does not pay";
  if (verdict === "notClear") return "whether it pays is not clear";
  return paybackYears === null ? "pays" : `pays back in ${yearsWords(paybackYears.simple)}`;
}

function yearsWords(years: number): string {
  return `${years.toFixed(1)} years`;
}

function idleWords({ ownershipCentsPerYear }: Ownership, currency: string): string {
  if (ownershipCentsPerYear === 0) return "";
  return ownershipCentsPerYear > 0
    ? `, and costs ${whole(ownershipCentsPerYear)} ${currency} a year to own`
    : `, and saves ${whole(ownershipCentsPerYear)} ${currency} a year by not owning it`;
}

function unclearWords(ownership: Ownership, currency: string): string {
  if (ownership.ownershipCentsPerYear === 0) return "";
  return `${idleWords(ownership, currency)}: ${verdictWords(ownership)}`;
}
