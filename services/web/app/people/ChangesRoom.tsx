import { useCallback, useState } from "react";
import type { AuditPage } from "../../../../shared/contracts/audit.ts";
import { get } from "../api/call.ts";
import { instantWords } from "../kit/instants.ts";
import { Empty, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { changesWords as words, wordsOfAction } from "../strings/changes.ts";
import { detailLines } from "./changeDetails.ts";
import "./people.css";

type Entry = AuditPage["entries"][number];
const perPage = 50;

/** Who changed what: for whoever has to answer for it later. */
export default function ChangesRoom() {
  const [typed, setTyped] = useState({ who: "", from: "" });
  const [wanted, setWanted] = useState({ who: "", from: "", cursor: "" });
  const asked = useAsked(
    useCallback(
      (signal: AbortSignal) => {
        const query = new URLSearchParams({ limit: String(perPage) });
        if (wanted.who !== "") query.set("who", wanted.who);
        // From the beginning of that day where the reader is.
        if (wanted.from !== "") query.set("from", new Date(`${wanted.from}T00:00`).toISOString());
        if (wanted.cursor !== "") query.set("cursor", wanted.cursor);
        return get<AuditPage>(`/api/audit?${query}`, signal);
      },
      [wanted],
    ),
  );
  return (
    <>
      <h1>{words.title}</h1>
      <p className="quiet">{words.text}</p>
      <form
        className="changeFilter"
        onSubmit={(event) => {
          event.preventDefault();
          setWanted({ who: typed.who.trim(), from: typed.from, cursor: "" });
        }}
      >
        <label>
          {words.who}
          <input
            value={typed.who}
            maxLength={100}
            placeholder={words.whoHint}
            onChange={({ target }) => setTyped({ ...typed, who: target.value })}
          />
        </label>
        <label>
          {words.from}
          <input
            type="date"
            value={typed.from}
            min="1970-01-01"
            onChange={({ target }) => setTyped({ ...typed, from: target.value })}
          />
        </label>
        <button type="submit">{words.show}</button>
      </form>
      <Shown asked={asked}>
        {({ entries, next }) => (
          <>
            {entries.length === 0 && <Empty>{words.empty}</Empty>}
            <ol className="changes" aria-label={words.caption}>
              {entries.map((entry) => (
                <Change key={entry.id} entry={entry} />
              ))}
            </ol>
            <p className="dialogButtons">
              {wanted.cursor !== "" && (
                <button type="button" onClick={() => setWanted({ ...wanted, cursor: "" })}>
                  {words.first}
                </button>
              )}
              {next !== null && (
                <button type="button" onClick={() => setWanted({ ...wanted, cursor: next })}>
                  {words.more}
                </button>
              )}
            </p>
          </>
        )}
      </Shown>
    </>
  );
}

function Change({ entry: { action, at, by, details, thingId } }: { readonly entry: Entry }) {
  const lines = detailLines(details);
  const kind = words.kinds[by.kind];
  return (
    <li>
      <time dateTime={at}>{instantWords(at)}</time>
      <div>
        <p>
          <b>{by.name}</b>
          {kind && by.kind !== "service" ? ` (${kind})` : ""}: {wordsOfAction(action)}
        </p>
        {(lines.length > 0 || thingId !== null) && (
          <details>
            <summary>{words.details}</summary>
            <dl>
              {thingId !== null && (
                <>
                  <dt>{words.which}</dt>
                  <dd>{thingId}</dd>
                </>
              )}
              {lines.map(([name, value]) => (
                <div key={name} className="pair">
                  <dt>{name}</dt>
                  <dd>{value}</dd>
                </div>
              ))}
            </dl>
          </details>
        )}
      </div>
    </li>
  );
}
