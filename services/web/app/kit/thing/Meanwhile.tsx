import { useEffect, useRef } from "react";
import { formWords as words } from "../../strings/forms.ts";
import { quantityContext } from "../form/context.ts";
import { quantityOf, shownNumber } from "../form/quantities.ts";
import { type Difference, differences } from "../form/shape.ts";
import { Scroller } from "../Scroller.tsx";
import { placeWords } from "./placeWords.ts";
import type { FactsContext } from "./words.ts";

/** Somebody else has changed the thing: what each has, and the choice between them. */
export function Meanwhile({
  facts,
  mine,
  onMine,
  onTheirs,
  opened,
  theirs,
}: {
  /** Null: it was new. */
  readonly opened: unknown;
  readonly mine: unknown;
  /** Null: it has been removed. */
  readonly theirs: unknown;
  readonly facts: FactsContext;
  readonly onMine: () => void;
  readonly onTheirs: () => void;
}) {
  // The button that led here may stand a screen further down.
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const shown = differences([opened, theirs, mine]);
  return (
    <section className="meanwhile" role="alert">
      <h2 ref={heading} tabIndex={-1}>
        {words.meanwhileTitle}
      </h2>
      <p>{theirs === null ? words.meanwhileGone : opened === null ? words.meanwhileThere : words.meanwhileText}</p>
      {theirs !== null && (
        <Scroller name={words.meanwhileTitle}>
          <table>
            <thead>
              <tr>
                <td />
                {opened !== null && <th scope="col">{words.opened}</th>}
                <th scope="col">{words.theirs}</th>
                <th scope="col">{words.mine}</th>
              </tr>
            </thead>
            <tbody>
              {shown.map((difference) => (
                <tr key={JSON.stringify(difference.path)}>
                  <th scope="row">{placeWords(difference.path)}</th>
                  {difference.values.slice(opened === null ? 1 : 0).map((value, at) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: the columns never change.
                    <td key={at}>{wordsOf(difference, value, facts)}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </Scroller>
      )}
      <p className="buttons">
        <button type="button" onClick={onTheirs}>
          {words.takeTheirs}
        </button>
        <button type="button" onClick={onMine}>
          {words.takeMine}
        </button>
      </p>
    </section>
  );
}

function wordsOf({ path }: Difference, value: unknown, facts: FactsContext): string {
  if (value === undefined || value === "") return words.nothing;
  if (typeof value === "boolean") return value ? words.yes : words.no;
  if (typeof value !== "number") return String(value);
  const name = [...path].reverse().find((step) => typeof step === "string") ?? "";
  const quantity = quantityOf(String(name), quantityContext(facts, []));
  return [shownNumber(value, quantity), quantity?.unit].filter(Boolean).join(" ");
}
