import { useCallback, useState } from "react";
import type { ApplicationRecord } from "../../../../shared/contracts/applicationRecords.ts";
import type { Measured } from "../../../../shared/done/applicationRecord.ts";
import { ask, pathOf } from "../api/call.ts";
import { Dialog } from "../kit/Dialog.tsx";
import { shortDayWordsWithYear } from "../kit/dates.ts";
import { instantWords } from "../kit/instants.ts";
import { Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf } from "../place.ts";
import { recordWords as words } from "../strings/records.ts";
import { useUnits } from "../units/units.ts";
import { RecordChange } from "./RecordChange.tsx";
import { airWords, limitWords, recordLines } from "./recordLines.ts";

interface Place {
  readonly operationId: string;
  readonly crewId: string;
  readonly recordId: string;
  /** Null: the latest. */
  readonly version: number | null;
}

/** One application: what stands, what is missing, what was measured, how it came to be so. */
export function RecordView({
  crewId,
  mayChange,
  operationId,
  recordId,
  version,
}: Place & { readonly mayChange: boolean }) {
  const [isChanging, setIsChanging] = useState(false);
  const path = pathOf`/api/operations/${operationId}/crews/${crewId}/application-records/${recordId}`;
  const asked = useAsked(
    useCallback(
      (signal: AbortSignal) =>
        ask<ApplicationRecord>(version === null ? path : `${path}/versions/${version}`, { signal }),
      [path, version],
    ),
  );
  const latestAddress = addressOf("records", crewId, recordId);
  return (
    <>
      <p>
        <a href={addressOf("records")}>{words.back}</a>
      </p>
      <Shown asked={asked}>
        {({ body: told, etag }) => (
          <article className="record">
            <h1>
              {told.record.fieldName}, {shortDayWordsWithYear(told.record.date)}
            </h1>
            <p className="quiet">
              {told.record.crewName} · {told.record.orderId} · {words.states[told.record.state]}
            </p>
            {version !== null && (
              <p className="failure">
                {words.notLatest} <a href={latestAddress}>{words.toLatest}</a>
              </p>
            )}
            <Missing told={told} />
            {version === null && (
              <p className="recordButtons">
                {mayChange && (
                  <button type="button" className="main" onClick={() => setIsChanging(true)}>
                    {words.change}
                  </button>
                )}
                <a href={`${path}/record.pdf`} download>
                  {words.pdf}
                </a>
              </p>
            )}
            <Facts told={told} />
            <MeasuredTable measured={told.record.measured} timeZone={told.record.timeZone} />
            <Versions told={told} address={(number) => addressOf("records", crewId, recordId, String(number))} />
            {isChanging && (
              <Dialog title={words.changeTitle} onClose={() => setIsChanging(false)}>
                <RecordChange
                  told={told}
                  onStore={async (body) => {
                    await ask(path, { method: "PUT", body, ...(etag === null ? {} : { ifMatch: etag }) });
                    setIsChanging(false);
                    asked.again();
                  }}
                />
              </Dialog>
            )}
          </article>
        )}
      </Shown>
    </>
  );
}

function Missing({ told: { findings, missing } }: { readonly told: ApplicationRecord }) {
  return (
    <>
      <section>
        <h2>{words.missingTitle}</h2>
        {missing.length === 0 && <p>{words.missingNone}</p>}
        <ul>
          {missing.map(({ field, rule, sentence }) => (
            <li key={`${rule} ${field}`}>{sentence}</li>
          ))}
        </ul>
      </section>
      {findings.length > 0 && (
        <section>
          <h2>{words.findingsTitle}</h2>
          <ul>
            {findings.map((finding) => (
              <li key={finding}>{finding}</li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Facts({ told }: { readonly told: ApplicationRecord }) {
  const units = useUnits();
  return (
    <table className="recordFacts">
      <caption>{words.factsCaption}</caption>
      <thead>
        <tr>
          <th scope="col">{words.fact}</th>
          <th scope="col">{words.value}</th>
          <th scope="col">{words.comesFrom}</th>
          <th scope="col">{words.askedBy}</th>
        </tr>
      </thead>
      <tbody>
        {recordLines(told, units).map(({ askedBy, comesFrom, isMissing, key, label, value }) => (
          <tr key={key}>
            <th scope="row">{label}</th>
            <td className={isMissing ? "lacking" : undefined}>
              {value ?? (isMissing ? words.notThere : words.notNeeded)}
            </td>
            <td>{comesFrom}</td>
            <td>{askedBy.map((rule) => words.rules[rule]).join(", ")}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function MeasuredTable({ measured, timeZone }: { readonly measured: readonly Measured[]; readonly timeZone: string }) {
  const units = useUnits();
  if (measured.length === 0) return <p>{words.measuredNone}</p>;
  return (
    <table className="recordFacts">
      <caption>{words.measuredCaption}</caption>
      <thead>
        <tr>
          <th scope="col">{words.at}</th>
          <th scope="col">{words.air}</th>
          <th scope="col">{words.limits}</th>
        </tr>
      </thead>
      <tbody>
        {measured.map((one) => (
          <tr key={one.at}>
            <th scope="row">{instantWords(one.at, timeZone)}</th>
            <td>{airWords(one, units)}</td>
            <td>
              <ul>
                {one.limits.map((limit) => (
                  <li key={`${limit.measure} ${limit.bound}`} className={limit.holds ? undefined : "lacking"}>
                    {limitWords(limit, units)}
                  </li>
                ))}
              </ul>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Versions({
  address,
  told: { byName, createdAt, reason, version },
}: {
  readonly told: ApplicationRecord;
  readonly address: (version: number) => string;
}) {
  const earlier = Array.from({ length: version - 1 }, (_, at) => version - 1 - at);
  return (
    <section>
      <h2>{words.versions}</h2>
      <p>
        <b>{words.version(version)}</b>.{" "}
        {words.versionBy(byName, instantWords(createdAt), reason === "reported" ? words.reported : reason)}
      </p>
      {earlier.length > 0 && (
        <ul className="recordVersions">
          {earlier.map((number) => (
            <li key={number}>
              <a href={address(number)}>{words.version(number)}</a>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
