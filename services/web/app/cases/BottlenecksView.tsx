import { useMemo } from "react";
import { figureWords } from "../strings/figures.ts";
import { useUnitSystem } from "../units/units.ts";
import { ChartFigure } from "./charts/ChartFigure.tsx";
import { hoursChart } from "./charts/charts.ts";
import { amountsIn } from "./figures/amounts.ts";
import {
  type Bottlenecks,
  crewsTable,
  hoursTable,
  thingsTable,
  tightVerdict,
  unitsTable,
} from "./figures/bottleneckTables.ts";
import { changeWordsIn } from "./figures/changeWords.ts";
import { FiguresTable } from "./figures/FiguresTable.tsx";

const { notes, sentences } = figureWords;

/** Where a plan is tight: what one more of each thing would bring, and what is used of what there is. */
export function BottlenecksView({
  found: asTold,
  nameOf,
}: {
  readonly found: Bottlenecks;
  readonly nameOf: (id: string) => string;
}) {
  const system = useUnitSystem();
  const found = useMemo(
    () => ({ ...asTold, units: asTold.units.map((unit) => ({ ...unit, words: changeWordsIn(unit.words, system) })) }),
    [asTold, system],
  );
  const { boundCents, leavesOut, method } = found;
  const { amounts, crews, hours, things, units, verdict } = useMemo(() => {
    const amounts = amountsIn(system, found.currency);
    return {
      amounts,
      verdict: tightVerdict(found, amounts),
      units: unitsTable(found, amounts),
      hours: { chart: hoursChart(found, amounts), table: hoursTable(found, amounts) },
      crews: crewsTable(found, amounts),
      things: thingsTable(found, amounts, nameOf),
    };
  }, [found, nameOf, system]);
  return (
    <>
      <div className="verdict">
        {verdict.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        {boundCents !== null && <p className="quiet">{sentences.bound(amounts.money(boundCents).words)}</p>}
        {method === "fluid" && <p className="quiet">{sentences.roughly}</p>}
        {leavesOut !== null && <p className="quiet">{sentences.leavesOut(leavesOut)}</p>}
      </div>
      {units !== null && <FiguresTable figures={units} />}
      <div className="picture">
        <ChartFigure chart={hours.chart} says={notes.hours} />
        <FiguresTable figures={hours.table} />
      </div>
      <FiguresTable figures={crews} />
      <FiguresTable figures={things} />
    </>
  );
}
