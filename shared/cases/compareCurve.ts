import type { Operation } from "../model/operation.ts";
import { meanOf } from "../statistics/moments.ts";
import { verdictWords, whole } from "./caseSentence.ts";
import { baseCaseId, type CasesFile, type Curve } from "./cases.ts";
import type { CurveOutcome, CurvePointOutcome } from "./comparison.ts";
import { curvePoints } from "./curveCases.ts";
import { curveWeeks } from "./curveWeeks.ts";
import { differenceIn, type PlannedRun, pairsOf } from "./differenceIn.ts";
import { ownershipOf } from "./ownership.ts";
import type { RunResult } from "./runResult.ts";
import { costsOfBuys, type YearlyCosts } from "./yearlyCosts.ts";

const margin = ({ money }: RunResult) => money.marginCents;

/** Margin against the number of aircraft, and what each one brings beside one fewer. */
export function compareCurve(
  operation: Operation,
  file: CasesFile,
  curve: Curve,
  runsOf: (caseId: string) => readonly PlannedRun[],
): CurveOutcome {
  const type = operation.fleet.aircraftTypes.find(({ id }) => id === curve.typeId)!;
  const base = operation.settings.bases.find(({ id }) => id === curve.baseId)!;
  const costs: YearlyCosts =
    curve.buys === undefined
      ? { ownershipCentsPerYear: type.ownershipCentsPerYear, priceCents: null, hireCentsPerYear: 0 }
      : costsOfBuys(curve.buys, file.interestPct);
  const ran = curvePoints(operation, curve).map(({ id, count, changes }) => {
    const caseId = changes.length === 0 ? baseCaseId : id;
    return { count, caseId, runs: runsOf(caseId) };
  });
  const points = ran.map(({ count, caseId, runs }, at): CurvePointOutcome => {
    const fewer = ran[at - 1]?.runs ?? [];
    const pairs = pairsOf(fewer, runs);
    return {
      count,
      caseId,
      marginCentsPerYear:
        runs.length === 0 ? null : meanOf(runs.map(({ result }) => margin(result))) * file.weeksPerYear,
      next: pairs.length === 0 ? null : ownershipOf(differenceIn(margin, fewer, pairs), costs, file),
      weeks: curveWeeks(runs, pairs, file.weeksPerYear, costs.ownershipCentsPerYear),
    };
  });
  const sentence = curveSentence(points, `${type.name} at ${base.name}`, operation.settings.currency);
  return { typeName: type.name, baseName: base.name, points, sentence };
}

/** The point at which the next one no longer pays: the first that on average brings less than it costs. */
function curveSentence(points: readonly CurvePointOutcome[], things: string, currency: string): string {
  const first = points.find(({ next }) => next !== null && next.gainCentsPerYear < 0);
  if (first === undefined)
    return `${things}: up to number ${points.at(-1)!.count} each brings more than it costs to own.`;
  const { extraMarginCentsPerYear, interval95, ownershipCentsPerYear } = first.next!;
  const interval = interval95 === null ? "" : ` (95 %: ${whole(interval95[0])} to ${whole(interval95[1])})`;
  const found = `number ${first.count} brings ${whole(extraMarginCentsPerYear)} ${currency} a year${interval} and costs ${whole(ownershipCentsPerYear)} to own`;
  return `${things}: ${found}: ${verdictWords(first.next!)}.`;
}
