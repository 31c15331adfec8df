import { useId } from "react";
import { figureWords } from "../../strings/figures.ts";
import { csvOf, type Figures } from "./table.ts";

/** A table of figures with its download; wide ones are scrolled within themselves, also by keyboard. */
export function FiguresTable({ figures }: { readonly figures: Figures }) {
  const { columns, note, rowHead, rows, title } = figures;
  const titleId = useId();
  const hasNumbers = rows.some(({ number }) => number !== undefined);
  return (
    <div className="figures">
      <header>
        <h2 id={titleId} className="figuresTitle">
          {title}
        </h2>
        <button type="button" aria-label={`${figureWords.download}: ${title}`} onClick={() => download(figures)}>
          {figureWords.download}
        </button>
      </header>
      {note && <p className="quiet note">{note}</p>}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be reached by keyboard. */}
      <section className="scroller" tabIndex={0} aria-labelledby={titleId}>
        <table>
          <thead>
            <tr>
              <th scope="col">{rowHead}</th>
              {columns.map(({ head, isText }) => (
                <th key={head} scope="col" className={isText ? undefined : "number"}>
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ cells, name, number }) => (
              <tr key={`${number} ${name}`}>
                <th scope="row">
                  {hasNumbers && <span className="caseNumber">{number}</span>} {name}
                </th>
                {cells.map(({ detail, isQuiet, words }, at) => (
                  <td
                    key={columns[at]!.head}
                    className={
                      [columns[at]!.isText ? "" : "number", isQuiet ? "quiet" : ""].join(" ").trim() || undefined
                    }
                  >
                    {words}
                    {detail && <small>{detail}</small>}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </div>
  );
}

/** A mark at the beginning tells spreadsheets that it is UTF-8. */
const byteOrderMark = "\uFEFF";

function download(figures: Figures): void {
  const address = URL.createObjectURL(new Blob([byteOrderMark, csvOf(figures)], { type: "text/csv;charset=utf-8" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = figureWords.fileName(figures.title);
  link.click();
  URL.revokeObjectURL(address);
}
