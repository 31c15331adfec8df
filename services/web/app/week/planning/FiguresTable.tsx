import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import { acresFromHa, milesFromKm } from "../../../../../shared/units/units.ts";
import { publishWords as words } from "../../strings/publish.ts";
import { useUnits } from "../../units/units.ts";
import { type PlanFigure, planFigures, shownDifference } from "./planFigures.ts";
import { moneyWords } from "./times.ts";

/** What a plan comes to beside an earlier one, with the difference worked out and said in a word. */
export function FiguresTable({
  currency,
  difference,
}: {
  readonly difference: DifferenceAnswer;
  readonly currency: string;
}) {
  const units = useUnits();
  const shownAs: Record<PlanFigure["of"], (value: number) => string> = {
    areaHa: units.areaHa,
    roadKm: units.roadKm,
    costCents: (cents) => moneyWords(cents, currency),
  };
  const isUs = units.system === "us";
  const stepOf: Record<PlanFigure["of"], number> = {
    areaHa: isUs ? 1 / acresFromHa(1) : 0.1,
    roadKm: isUs ? 1 / milesFromKm(1) : 1,
    costCents: 100,
  };
  return (
    <>
      <table className="figures">
        <caption className="visuallyHidden">{words.figuresTitle}</caption>
        <thead>
          <tr>
            <td />
            <th scope="col">{words.now}</th>
            <th scope="col">{words.was}</th>
            <th scope="col">{words.change}</th>
          </tr>
        </thead>
        <tbody>
          {planFigures(difference).map(({ now, of, was }) => (
            <tr key={of}>
              <th scope="row">{words.figures[of]}</th>
              <td>{shownAs[of](now)}</td>
              <td>{shownAs[of](was)}</td>
              <Change more={shownDifference(now, was, stepOf[of])} isGoodMore={of === "areaHa"} shown={shownAs[of]} />
            </tr>
          ))}
        </tbody>
      </table>
      <p className="quiet">{difference.sameDays ? words.costHint : words.otherDays}</p>
    </>
  );
}

function Change({
  isGoodMore,
  more,
  shown,
}: {
  readonly more: number;
  readonly isGoodMore: boolean;
  readonly shown: (value: number) => string;
}) {
  const size = shown(Math.abs(more));
  if (size === shown(0)) return <td>{words.same}</td>;
  const isBetter = more > 0 === isGoodMore;
  return (
    <td className={isBetter ? "good" : "bad"}>
      <b>
        {more > 0 ? "+" : "−"}
        {size}
      </b>{" "}
      {isBetter ? words.better : words.worseWord}
    </td>
  );
}
