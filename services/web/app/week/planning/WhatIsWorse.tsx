import { shortDayWords } from "../../kit/dates.ts";
import { publishWords as words } from "../../strings/publish.ts";
import { useUnits } from "../../units/units.ts";
import type { LeftOutOrder, Worse } from "./worse.ts";

/** Our choice: beyond that nobody reads names in a sentence; all of them stand below, stop by stop. */
const mostNames = 4;

/** What is worse than crews and growers were told, first of all. */
export function WhatIsWorse({ worse }: { readonly worse: Worse }) {
  const leftOut = useLeftOut();
  const { atWork, high, late, mandatory, otherLeftOut } = worse;
  if (Object.values(worse).every(({ length }) => length === 0)) return <p>{words.nothingWorse}</p>;
  return (
    <section className="worse" aria-label={words.worse}>
      <h3>{words.worse}</h3>
      <ul>
        {mandatory.length > 0 && <Line sign="!!" title={words.mandatory} names={leftOut(mandatory)} />}
        {high.length > 0 && <Line sign="!" title={words.high} names={leftOut(high)} />}
        {atWork.length > 0 && (
          <Line
            title={words.atWork}
            names={atWork.map(({ changes, crewName, date }) => words.atWorkOne(crewName, shortDayWords(date), changes))}
          />
        )}
        {otherLeftOut.length > 0 && <Line title={words.otherLeftOut} names={leftOut(otherLeftOut)} />}
        {late.length > 0 && (
          <Line
            title={words.late}
            names={late.map(({ date, fieldName, orderId }) => words.lateOne(fieldName, orderId, shortDayWords(date)))}
          />
        )}
      </ul>
    </section>
  );
}

function Line({
  names,
  sign,
  title,
}: {
  readonly title: string;
  readonly sign?: string;
  readonly names: readonly string[];
}) {
  return (
    <li>
      {sign !== undefined && <b aria-hidden="true">{sign} </b>}
      <b>{words.counted(title, names.length)}</b> {namesWords(names)}
    </li>
  );
}

export const namesWords = (names: readonly string[]) =>
  names.length > mostNames
    ? words.namesAndMore(names.slice(0, mostNames).join("; "), names.length - mostNames)
    : `${names.join("; ")}.`;

/** Orders with what of them is left out. */
export function useLeftOut(): (orders: readonly LeftOutOrder[]) => readonly string[] {
  const units = useUnits();
  return (orders) =>
    orders.map(({ areaHa, fieldName, orderId }) => words.leftOutOne(fieldName, orderId, units.areaHa(areaHa)));
}
