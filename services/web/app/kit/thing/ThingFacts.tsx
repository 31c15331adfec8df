import { labelOf } from "../../../../../shared/model/memberWords.ts";
import { kindOf, type Shape } from "../form/shape.ts";
import { Scroller } from "../Scroller.tsx";
import { type FactsContext, membersIn, unionShape, valueWords } from "./words.ts";

interface FactsProps {
  readonly shape: Shape;
  readonly value: unknown;
  readonly facts: FactsContext;
  readonly around?: readonly unknown[];
  readonly except?: readonly string[];
}

/** All that is stored of a thing, readable. */
export function ThingFacts({ around = [], except = [], facts, shape, value }: FactsProps) {
  const members = membersIn(shape, value).filter(
    ({ member, shape: inner }) => !except.includes(member) && kindOf(member, inner) !== "fixed",
  );
  const inside = [...around, value];
  const isLarge = ({ member, shape: inner }: (typeof members)[number]) => {
    const kind = kindOf(member, inner);
    return kind === "group" || kind === "union" || (kind === "list" && inner.items?.properties !== undefined);
  };
  return (
    <>
      <dl className="thingFacts">
        {members
          .filter((one) => !isLarge(one))
          .map(({ member, of, shape: inner }) => (
            <div key={member}>
              <dt>{labelOf(member)}</dt>
              <dd>{valueWords(member, inner, of, facts, inside)}</dd>
            </div>
          ))}
      </dl>
      {members.filter(isLarge).map(({ member, of, shape: inner }) => {
        const kind = kindOf(member, inner);
        if (kind === "list") {
          return (
            <FactTable
              key={member}
              name={member}
              shape={inner.items!}
              entries={of as unknown[]}
              facts={facts}
              around={inside}
            />
          );
        }
        return (
          <section key={member} className="thingPart">
            {around.length === 0 ? <h2>{labelOf(member)}</h2> : <h3>{labelOf(member)}</h3>}
            <ThingFacts
              shape={kind === "union" ? unionShape(inner, of) : inner}
              value={of}
              facts={facts}
              around={inside}
            />
          </section>
        );
      })}
    </>
  );
}

function FactTable({
  around,
  entries,
  facts,
  name,
  shape,
}: Pick<FactsProps, "facts" | "shape"> & {
  readonly name: string;
  readonly entries: readonly unknown[];
  readonly around: readonly unknown[];
}) {
  const used = new Set(entries.flatMap((entry) => membersIn(shape, entry).map(({ member }) => member)));
  // Where a hazard stands is read on a map, not in a cell.
  const columns = Object.entries(shape.properties ?? {}).filter(
    ([member, inner]) => used.has(member) && kindOf(member, inner) !== "union",
  );
  return (
    <Scroller name={labelOf(name)}>
      <table>
        <caption>{labelOf(name)}</caption>
        <thead>
          <tr>
            {columns.map(([member]) => (
              <th key={member} scope="col">
                {labelOf(member)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {entries.map((entry) => (
            <tr key={JSON.stringify(entry)}>
              {columns.map(([member, inner]) => (
                <td key={member}>
                  {valueWords(member, inner, (entry as Record<string, unknown>)[member], facts, [...around, entry])}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroller>
  );
}
