import { textTable, wrapped } from "../plan/textTable.ts";
import { verdictWords, whole } from "./caseSentence.ts";
import type { CurveOutcome } from "./comparison.ts";

const barChars = 30;

/** Margin a year against the number of aircraft, with a bar for each, and what each one more brings. */
export function curveText({ typeName, baseName, points, sentence }: CurveOutcome, currency: string): string[] {
  const most = Math.max(0, ...points.map(({ marginCentsPerYear }) => marginCentsPerYear ?? 0));
  const rows = points.map(({ count, marginCentsPerYear, next }) => [
    String(count),
    marginCentsPerYear === null ? "-" : whole(marginCentsPerYear),
    next === null ? "" : whole(next.extraMarginCentsPerYear),
    next?.interval95?.map(whole).join(" to ") ?? "",
    next === null ? "" : whole(next.ownershipCentsPerYear),
    "#".repeat(most === 0 ? 0 : Math.max(0, Math.round((barChars * (marginCentsPerYear ?? 0)) / most))),
    next === null ? "" : verdictWords(next),
  ]);
  const head = ["", "margin", "next one", "95 %", "to own", "", ""];
  return [
    "",
    ...wrapped(
      `${typeName} at ${baseName}, by their number, ${currency} a year: margin before owning them; what the next one brings, and costs to own`,
      0,
    ),
    ...textTable([head, ...rows], { indent: 0, right: [0, 1, 2, 3, 4] }),
    ...wrapped(sentence, 0),
  ];
}
