import type { Fault } from "../../../../../shared/contracts/problem.ts";
import { fileWords as words } from "../../strings/files.ts";
import { Scroller } from "../Scroller.tsx";
import { faultsByFile } from "./dropped.ts";

/** Every fault by its file and its place in it. */
export function FileFaultList({ faults }: { readonly faults: readonly Fault[] }) {
  return (
    <div className="failure" role="alert">
      <p>
        <b>{words.faults(faults.length)}</b> {words.faultsHint}
      </p>
      {faultsByFile(faults).map(({ faults: of, file }) => (
        <Scroller name={words.faultsOf(file)} key={file}>
          <table className="faults">
            <caption>{words.faultsOf(file)}</caption>
            <thead>
              <tr>
                <th scope="col">{words.place}</th>
                <th scope="col">{words.found}</th>
                <th scope="col">{words.expected}</th>
              </tr>
            </thead>
            <tbody>
              {of.map(({ expected, place, value }) => (
                <tr key={`${place} ${expected}`}>
                  <td>{place}</td>
                  <td>{foundWords(value)}</td>
                  <td>{expected}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroller>
      ))}
    </div>
  );
}

const foundWords = (value: unknown) =>
  value === undefined || value === null ? words.missing : typeof value === "string" ? value : JSON.stringify(value);
