import type { FilesAnswer } from "../../../../../shared/contracts/operations.ts";
import { fileWords as words } from "../../strings/files.ts";
import { thingWords } from "../../strings/things.ts";
import { Scroller } from "../Scroller.tsx";

/** What would be otherwise than it is, kind by kind. */
export function ChangesTold({ answer }: { readonly answer: FilesAnswer }) {
  const { changes, defaultsUsed, name, operation, weather } = answer;
  if (changes.length === 0) return <p>{words.unchanged}</p>;
  return (
    <>
      {operation === null && <p>{words.newOperation(name)}</p>}
      <Scroller name={words.changesOf(name)}>
        <table className="changesTold">
          <caption>{words.changesOf(name)}</caption>
          <thead>
            <tr>
              <th scope="col">{words.changes.kind}</th>
              <th scope="col">{words.changes.added}</th>
              <th scope="col">{words.changes.changed}</th>
              <th scope="col">{words.changes.removed}</th>
              <th scope="col">{words.changes.same}</th>
            </tr>
          </thead>
          <tbody>
            {changes.map((one) => (
              <tr key={one.name}>
                <th scope="row">{thingWords[one.name]?.many ?? one.name}</th>
                <td>
                  <Some of={one.added} />
                </td>
                <td>
                  <Some of={one.changed} />
                </td>
                <td>
                  <Some of={one.removed} />
                </td>
                <td>{one.same}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroller>
      {weather && <p>{words.weather(weather.stations.length, timeWords(weather.from), timeWords(weather.to))}</p>}
      {operation === null && defaultsUsed.length > 0 && (
        <details>
          <summary>{words.defaults(defaultsUsed.reduce((sum, { count }) => sum + count, 0))}</summary>
          <table>
            <thead>
              <tr>
                <th scope="col">{words.defaultsWhere}</th>
                <th scope="col">{words.defaultsValue}</th>
                <th scope="col">{words.defaultsCount}</th>
              </tr>
            </thead>
            <tbody>
              {defaultsUsed.map(({ count, path, value }) => (
                <tr key={path.join(".")}>
                  <td>{path.filter((step) => step !== "*").join(" › ")}</td>
                  <td>{JSON.stringify(value)}</td>
                  <td>{count}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </>
  );
}

const timeWords = (instant: string) => instant.slice(0, 16).replace("T", " ");
const namedAtOnce = 6;

/** How many, and by their names where there are few. */
function Some({ of }: { readonly of: readonly string[] }) {
  if (of.length === 0) return null;
  if (of.length <= namedAtOnce) return of.join(", ");
  return (
    <details>
      <summary>{of.length}</summary>
      {of.join(", ")}
    </details>
  );
}
