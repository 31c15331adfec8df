import type { CaseOutcome, Comparison, CurveOutcome, Ownership } from "../../../../../shared/cases/comparison.ts";
import { figureWords } from "../../strings/figures.ts";
import { type Amounts, numberWords, withoutUnit } from "./amounts.ts";
import { leftAfterOwning } from "./leftAfterOwning.ts";

const words = figureWords.verdicts;
const sentences = figureWords.sentences;

export function verdictWords({ ownershipCentsPerYear, paybackYears, verdict }: Ownership): string {
  if (verdict === "doesNotPay") return words.doesNotPay;
  if (verdict === "notClear") return words.notClear;
  if (paybackYears !== null) {
    const { discounted, simple } = paybackYears;
    return words.paysBack(numberWords(simple, 1), discounted === null ? null : numberWords(discounted, 1));
  }
  return ownershipCentsPerYear === 0 ? words.free : words.pays;
}

/** Where what is left a year after owning lies with 95 %. */
export const leftWithin = ({ interval95, ownershipCentsPerYear }: Ownership): Ownership["interval95"] =>
  interval95 === null ? null : [interval95[0] - ownershipCentsPerYear, interval95[1] - ownershipCentsPerYear];

/** What the owner wants to know first, in a few sentences. */
export function verdictOf(comparison: Comparison, amounts: Amounts): string[] {
  const { cases, curve, weeks, weeksPerYear } = comparison;
  return [
    ...(cases.length === 0 ? [] : casesVerdict(cases, amounts)),
    ...(curve === null ? [] : [curveVerdict(curve, amounts), ...curveBest(curve)]),
    weeks === null
      ? sentences.oneWeek(numberWords(weeksPerYear, 0))
      : sentences.manyWeeks(weeks, numberWords(weeksPerYear, 0)),
  ];
}

/** The first that on average brings less than it costs is where the next no longer pays. */
export function curveVerdict({ baseName, points, typeName }: CurveOutcome, { money }: Amounts): string {
  const things = `${typeName}, ${baseName}`;
  const told = points.filter(({ next }) => next !== null);
  if (told.length === 0) return sentences.curveNone(things);
  const first = told.find(({ next }) => next!.gainCentsPerYear < 0);
  if (first === undefined) return sentences.curvePays(things, told.at(-1)!.count);
  const { extraMarginCentsPerYear, interval95, ownershipCentsPerYear } = first.next!;
  const brings = money(extraMarginCentsPerYear).words;
  const [low, high] = interval95?.map(money) ?? [];
  return sentences.curveEnds(
    things,
    first.count,
    low && high ? sentences.sure(brings, figureWords.between(withoutUnit(low), high.words)) : brings,
    money(ownershipCentsPerYear).words,
    verdictWords(first.next!),
  );
}

/** The number of which most is left, where every number came to a plan. */
function curveBest({ points, typeName }: CurveOutcome): string[] {
  const left = leftAfterOwning(points);
  if (left.includes(null)) return [];
  const best = points[left.indexOf(Math.max(...left.map(Number)))];
  const now = points.find(({ caseId }) => caseId === "base")?.count ?? null;
  return best === undefined ? [] : [sentences.curveBest(typeName, best.count, now)];
}

const mostNames = 3;

export function casesVerdict(cases: readonly CaseOutcome[], { money }: Amounts): string[] {
  const judged = cases
    .flatMap(({ name, ownership }) => (ownership === null ? [] : [{ name, ownership }]))
    .sort((a, b) => b.ownership.gainCentsPerYear - a.ownership.gainCentsPerYear);
  const best = judged.find(({ ownership }) => ownership.verdict === "pays");
  const [nearest] = judged;
  const leftOf = ({ ownership }: (typeof judged)[number]) => {
    const [low, high] = leftWithin(ownership)?.map(money) ?? [];
    const left = money(ownership.gainCentsPerYear).words;
    return low && high ? sentences.sure(left, figureWords.between(withoutUnit(low), high.words)) : left;
  };
  const unclear = judged.filter(({ ownership }) => ownership.verdict === "notClear").map(({ name }) => `“${name}”`);
  return [
    ...(best === undefined
      ? [nearest === undefined ? sentences.nonePays : sentences.nearest(nearest.name, leftOf(nearest))]
      : [sentences.best(best.name, leftOf(best), verdictWords(best.ownership))]),
    ...(unclear.length === 0
      ? []
      : [unclear.length > mostNames ? sentences.unclearMany(unclear.length) : sentences.unclear(unclear.join(", "))]),
  ];
}
