import { useMemo } from "react";
import type { Comparison } from "../../../../shared/cases/comparison.ts";
import { figureWords } from "../strings/figures.ts";
import { useUnitSystem } from "../units/units.ts";
import { ChartFigure } from "./charts/ChartFigure.tsx";
import { curveChart, differenceChart, nextChart, quantilesChart } from "./charts/charts.ts";
import { amountsIn, numberWords } from "./figures/amounts.ts";
import { changeWordsIn } from "./figures/changeWords.ts";
import { differenceTable, leftOutTable, moneyTable, usedTable, weekTable } from "./figures/comparisonTables.ts";
import { FiguresTable } from "./figures/FiguresTable.tsx";
import { calmHoursTable, curveTable, quantilesTable } from "./figures/seasonTables.ts";
import type { Figures } from "./figures/table.ts";
import { casesVerdict, curveVerdict, verdictOf } from "./figures/verdict.ts";

const { sentences } = figureWords;

/** What came of the cases: first in a sentence, then as pictures, each with its table. */
export function ComparisonView({ comparison }: { readonly comparison: Comparison }) {
  const system = useUnitSystem();
  const { cases, failed, interestPct } = comparison;
  const shown = useMemo(() => {
    const amounts = amountsIn(system, comparison.currency);
    return {
      verdict: verdictOf(comparison, amounts),
      curve:
        comparison.curve === null
          ? null
          : {
              chart: curveChart(comparison.curve, amounts),
              next: nextChart(comparison.curve, amounts),
              table: curveTable(comparison.curve, amounts),
              says: curveVerdict(comparison.curve, amounts),
            },
      difference: {
        chart: differenceChart(comparison, amounts),
        table: differenceTable(comparison, amounts),
        says: casesVerdict(comparison.cases, amounts).join(" "),
      },
      quantiles: { chart: quantilesChart(comparison, amounts), table: quantilesTable(comparison, amounts) },
      others: [
        weekTable(comparison, amounts),
        moneyTable(comparison, amounts),
        usedTable(comparison, amounts),
        leftOutTable(comparison, amounts),
        calmHoursTable(comparison, amounts),
      ].filter((table): table is Figures => table !== null),
    };
  }, [comparison, system]);
  const { difference, quantiles, verdict } = shown;
  const says = difference.says;
  return (
    <>
      <div className="verdict">
        {verdict.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <p className="quiet">{sentences.interest(numberWords(interestPct, Number.isInteger(interestPct) ? 0 : 1))}</p>
      </div>
      {difference.table !== null && (
        <div className="picture">
          {difference.chart !== null && <ChartFigure chart={difference.chart} says={says} />}
          <FiguresTable figures={difference.table} />
          <ChangesOfCases cases={cases} />
        </div>
      )}
      {shown.curve !== null && (
        <div className="picture">
          {shown.curve.next !== null && <ChartFigure chart={shown.curve.next} says={shown.curve.says} />}
          <ChartFigure chart={shown.curve.chart} says={shown.curve.says} />
          <FiguresTable figures={shown.curve.table} />
        </div>
      )}
      {quantiles.table !== null && quantiles.chart !== null && (
        <div className="picture">
          <ChartFigure chart={quantiles.chart} says={figureWords.notes.quantiles} />
          <FiguresTable figures={quantiles.table} />
        </div>
      )}
      {shown.others.map((table) => (
        <FiguresTable key={table.title} figures={table} />
      ))}
      {failed.length > 0 && (
        <div className="failure">
          <p>{sentences.failed(failed.length)}</p>
          <ul>
            {failed.map(({ key: { caseId, seed, week }, message }) => (
              <li key={`${caseId} ${seed} ${week}`}>
                {sentences.failedRun(nameOf(comparison, caseId), seed, week ?? null, message)}
              </li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
}

function nameOf({ base, cases }: Comparison, caseId: string): string {
  return caseId === base.id ? figureWords.asNow : (cases.find(({ id }) => id === caseId)?.name ?? caseId);
}

/** What each case changes, for who has forgotten what its name stands for. */
function ChangesOfCases({ cases }: Pick<Comparison, "cases">) {
  const system = useUnitSystem();
  return (
    <details className="changesOfCases">
      <summary>{figureWords.heads.changes}</summary>
      <ol>
        {cases.map(({ changes, id, name }) => (
          <li key={id}>
            <b>{name}</b>: {changeWordsIn(changes, system)}
          </li>
        ))}
      </ol>
    </details>
  );
}
