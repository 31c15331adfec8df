import { useCallback, useId, useState } from "react";
import type { CrewLink } from "../../../../../shared/contracts/crewLinks.ts";
import type { CrewView } from "../../../../../shared/plan/weekView.ts";
import { ask, get, pathOf, post } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { say } from "../../kit/Say.tsx";
import { errorWords, Failure, Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { momentWords } from "./times.ts";

interface MadeLink {
  readonly crewLink: CrewLink;
  readonly address: string;
  readonly calendarAddress: string;
}

/** Our choice: a shift, the plan's week, and as long as the server allows. */
const daysGood = [1, 7, 14, 31] as const;
const usualDays = 7;

/** Links by which crews' phones see their days: given out, listed, withdrawn. */
export function CrewLinks({
  crews,
  onClose,
  operationId,
  timeZone,
}: {
  readonly operationId: string;
  readonly crews: readonly Pick<CrewView, "id" | "name">[];
  readonly timeZone: string | undefined;
  readonly onClose: () => void;
}) {
  const asked = useAsked(
    useCallback(
      (signal: AbortSignal) =>
        get<{ crewLinks: CrewLink[] }>(pathOf`/api/operations/${operationId}/crew-links`, signal),
      [operationId],
    ),
  );
  const [made, setMade] = useState<MadeLink | null>(null);
  const nameOf = (id: string) => crews.find((crew) => crew.id === id)?.name ?? id;
  const withdraw = (id: string) => {
    ask(pathOf`/api/crew-links/${id}`, { method: "DELETE" }).then(
      () => {
        say(words.withdrawnNow);
        if (made?.crewLink.id === id) setMade(null);
        asked.again();
      },
      (error: Error) => say(errorWords(error), true),
    );
  };
  return (
    <Dialog title={words.linksTitle} onClose={onClose}>
      <p>{words.linksText}</p>
      <MakeLink
        operationId={operationId}
        crews={crews}
        onMade={(link) => {
          setMade(link);
          asked.again();
        }}
      />
      {made !== null && <Made made={made} crewName={nameOf(made.crewLink.crewId)} />}
      <Shown asked={asked}>
        {({ crewLinks }) =>
          crewLinks.length === 0 ? (
            <p className="quiet">{words.noLinks}</p>
          ) : (
            <LinkList crewLinks={crewLinks} nameOf={nameOf} timeZone={timeZone} onWithdraw={withdraw} />
          )
        }
      </Shown>
    </Dialog>
  );
}

function MakeLink({
  crews,
  onMade,
  operationId,
}: {
  readonly operationId: string;
  readonly crews: readonly Pick<CrewView, "id" | "name">[];
  readonly onMade: (made: MadeLink) => void;
}) {
  const [crewId, setCrewId] = useState(crews[0]?.id ?? "");
  const [note, setNote] = useState("");
  const [days, setDays] = useState<number>(usualDays);
  const [error, setError] = useState<Error | null>(null);
  const [isAsking, setIsAsking] = useState(false);
  const make = () => {
    setIsAsking(true);
    setError(null);
    const body = note.trim() === "" ? { days } : { days, note: note.trim() };
    post<MadeLink>(pathOf`/api/operations/${operationId}/crews/${crewId}/links`, body)
      .then(onMade, setError)
      .finally(() => setIsAsking(false));
  };
  return (
    <form
      className="formRow"
      onSubmit={(event) => {
        event.preventDefault();
        make();
      }}
    >
      <label>
        {words.crew}
        <select value={crewId} onChange={({ target }) => setCrewId(target.value)}>
          {crews.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        {words.whose}
        <input value={note} maxLength={100} onChange={({ target }) => setNote(target.value)} />
      </label>
      <label>
        {words.days}
        <select value={days} onChange={({ target }) => setDays(Number(target.value))}>
          {daysGood.map((one) => (
            <option key={one} value={one}>
              {words.daysOf(one)}
            </option>
          ))}
        </select>
      </label>
      <button type="submit" className="main" disabled={isAsking || crewId === ""}>
        {words.makeLink}
      </button>
      {error !== null && <Failure error={error} />}
    </form>
  );
}

function Made({
  crewName,
  made: { address, calendarAddress },
}: {
  readonly made: MadeLink;
  readonly crewName: string;
}) {
  return (
    <div className="madeLink">
      <ToCopy title={words.madeLink(crewName)} address={address} />
      <ToCopy title={words.calendar(crewName)} address={calendarAddress} />
      <p className="quiet">{words.calendarText}</p>
    </div>
  );
}

function ToCopy({ address, title }: { readonly address: string; readonly title: string }) {
  const fieldId = useId();
  const [copied, setCopied] = useState<string | null>(null);
  const copy = () => {
    // Where the page came without https there is no clipboard.
    const copying = navigator.clipboard?.writeText(address) ?? Promise.reject();
    copying.then(
      () => setCopied(words.copied),
      () => setCopied(words.notCopied),
    );
  };
  return (
    <>
      <label htmlFor={fieldId}>{title}</label>
      <div className="formRow">
        <input id={fieldId} readOnly value={address} onFocus={({ target }) => target.select()} />
        <button type="button" aria-label={words.copyOf(title)} onClick={copy}>
          {words.copy}
        </button>
      </div>
      <p role="status">{copied}</p>
    </>
  );
}

function LinkList({
  crewLinks,
  nameOf,
  onWithdraw,
  timeZone,
}: {
  readonly crewLinks: readonly CrewLink[];
  readonly nameOf: (id: string) => string;
  readonly timeZone: string | undefined;
  readonly onWithdraw: (id: string) => void;
}) {
  const titleId = useId();
  const now = Date.now();
  const isGood = ({ expiresAt, revokedAt }: CrewLink) => revokedAt === null && Date.parse(expiresAt) > now;
  const goodFirst = [...crewLinks].sort((a, b) => Number(isGood(b)) - Number(isGood(a)));
  return (
    <>
      <h3 id={titleId}>{words.linkList}</h3>
      <ul aria-labelledby={titleId} className="givenLinks">
        {goodFirst.map((link) => {
          const { byName, crewId, expiresAt, id, note, revokedAt } = link;
          return (
            <li key={id}>
              <span>
                <b>{nameOf(crewId)}</b>
                {note !== "" && `, ${note}`}
              </span>
              <span className="quiet">{words.given(byName, momentWords(expiresAt, timeZone))}</span>
              {isGood(link) ? (
                <button
                  type="button"
                  aria-label={words.withdrawOf(nameOf(crewId), note)}
                  onClick={() => onWithdraw(id)}
                >
                  {words.withdraw}
                </button>
              ) : (
                <span>{revokedAt === null ? words.expired : words.withdrawn}</span>
              )}
            </li>
          );
        })}
      </ul>
    </>
  );
}
