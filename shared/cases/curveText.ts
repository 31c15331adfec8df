import { textTable, wrapped } from "../plan/textTable.ts";
import { verdictWords, whole } from "./caseSentence.ts";
import type { CurveOutcome, CurvePointOutcome } from "./comparison.ts";

const barChars = 24;

/** Margin a year against the number of aircraft, and what each one more brings beside what it costs to own, as figures and as a bar. */
export function curveText({ typeName, baseName, points, sentence }: CurveOutcome, currency: string): string[] {
  const amounts = points.flatMap(({ next }) =>
    next === null ? [] : [next.extraMarginCentsPerYear, next.ownershipCentsPerYear],
  );
  const centsPerChar = Math.max(1, ...amounts) / barChars;
  const rows = points.map(({ count, marginCentsPerYear, next }) => [
    String(count),
    marginCentsPerYear === null ? "-" : whole(marginCentsPerYear),
    ...(next === null
      ? ["", "", "", "", ""]
      : [
          whole(next.extraMarginCentsPerYear),
          next.interval95?.map(whole).join(" to ") ?? "-",
          whole(next.ownershipCentsPerYear),
          bar(next, centsPerChar),
          verdictWords(next),
        ]),
  ]);
  const head = ["", "margin", "next one", "95 %", "to own", "", ""];
  const title = `${typeName} at ${baseName}, by their number, ${currency} a year: margin before owning them; what the next one brings (#), and costs to own (|)`;
  return [
    "",
    ...wrapped(title, 0),
    ...textTable([head, ...rows], { indent: 0, right: [0, 1, 2, 3, 4] }),
    ...wrapped(sentence, 0),
  ];
}

/** "######|####" where it brings more than it costs, "###   |" where less. */
function bar(
  { extraMarginCentsPerYear, ownershipCentsPerYear }: NonNullable<CurvePointOutcome["next"]>,
  centsPerChar: number,
): string {
  const chars = (cents: number) => Math.max(0, Math.round(cents / centsPerChar));
  const [brings, costs] = [chars(extraMarginCentsPerYear), chars(ownershipCentsPerYear)];
  return `${"#".repeat(Math.min(brings, costs)).padEnd(costs)}|${"#".repeat(Math.max(0, brings - costs))}`;
}
