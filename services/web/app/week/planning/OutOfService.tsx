import { useCallback, useState } from "react";
import type { Aircraft, AircraftType, Crew, Tender } from "../../../../../shared/model/fleet.ts";
import { get, pathOf, Refusal } from "../../api/call.ts";
import { shortDayWords } from "../../kit/dates.ts";
import { Failure, Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { replanWords as words } from "../../strings/replan.ts";
import { changeThing, takeThing } from "./changeThing.ts";
import { aircraftOut, crewOut } from "./outOfService.ts";
import { nextDate } from "./times.ts";

type OutKind = "aircraft" | "crew" | "tender";
const outKinds: readonly OutKind[] = ["aircraft", "crew", "tender"];

interface Listed<Entry> {
  readonly entries: readonly { readonly key: string; readonly entry: Entry }[];
}
interface Choice {
  readonly id: string;
  readonly name: string;
}
type Choices = Readonly<Record<OutKind, readonly Choice[]>>;

interface OutOfServiceProps {
  readonly operationId: string;
  /** Of the plan's days. */
  readonly dates: readonly string[];
  /** Date from which it is planned again. */
  readonly from: string;
  readonly onStored: (sentence: string) => void;
}

/** An aircraft, a crew or a tender that cannot work: stored in the operation at once. */
export function OutOfService(props: OutOfServiceProps) {
  const { operationId } = props;
  const asked = useAsked(
    useCallback(
      async (signal: AbortSignal): Promise<Choices> => {
        const listOf = async <Entry,>(name: string) =>
          (await get<Listed<Entry>>(pathOf`/api/operations/${operationId}/${name}?limit=${"200"}`, signal)).entries.map(
            ({ entry }) => entry,
          );
        const [aircraft, types, crews, tenders] = await Promise.all([
          listOf<Aircraft>("aircraft"),
          listOf<AircraftType>("aircraft-types"),
          listOf<Crew>("crews"),
          listOf<Tender>("tenders"),
        ]);
        const typeName = (typeId: string) => types.find(({ id }) => id === typeId)?.name ?? typeId;
        return {
          aircraft: aircraft.map(({ id, typeId }) => ({ id, name: words.aircraftName(typeName(typeId), id) })),
          crew: crews,
          tender: tenders,
        };
      },
      [operationId],
    ),
  );
  return <Shown asked={asked}>{(choices) => <OutForm {...props} choices={choices} />}</Shown>;
}

function OutForm({
  choices,
  dates,
  from: fromNow,
  onStored,
  operationId,
}: OutOfServiceProps & { readonly choices: Choices }) {
  const [kind, setKind] = useState<OutKind>("aircraft");
  const [chosen, setChosen] = useState("");
  // Until somebody says otherwise it is out on one day: a press too soon must not ground it for the week.
  const [chosenFrom, setFrom] = useState<string | null>(null);
  const [chosenTo, setTo] = useState<string | null>(null);
  const from = chosenFrom ?? fromNow;
  const to = chosenTo !== null && chosenTo > from ? chosenTo : from;
  const [problem, setProblem] = useState<string | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const [isAsking, setIsAsking] = useState(false);
  const all = choices[kind];
  const thing = all.find(({ id }) => id === chosen) ?? all[0];

  async function take({ id, name }: Choice): Promise<string | null> {
    const span = { from, to };
    if (kind === "tender") {
      await takeThing(pathOf`/api/operations/${operationId}/tenders/${id}`);
      return words.tenderOut(name);
    }
    if (kind === "aircraft") {
      await changeThing<Aircraft>(pathOf`/api/operations/${operationId}/aircraft/${id}`, (one) =>
        aircraftOut(one, span, nextDate),
      );
      return words.aircraftOut(name, spanWords(from, to));
    }
    let taken = 0;
    const changed = await changeThing<Crew>(pathOf`/api/operations/${operationId}/crews/${id}`, (crew) => {
      const next = crewOut(crew, span);
      taken = crew.shifts.length - (next?.shifts.length ?? crew.shifts.length);
      return next;
    });
    return changed === null ? null : words.crewOut(name, spanWords(from, to), taken);
  }

  const onTake = () => {
    if (thing === undefined) return;
    setProblem(null);
    setError(null);
    setIsAsking(true);
    take(thing)
      .then(
        (sentence) => (sentence === null ? setProblem(words.noShift(thing.name)) : onStored(sentence)),
        (failed: Error) => {
          if (failed instanceof Refusal && failed.status === 412) setProblem(words.changedMeanwhile);
          else setError(failed);
        },
      )
      .finally(() => setIsAsking(false));
  };

  return (
    <form
      className="formRow"
      onSubmit={(event) => {
        event.preventDefault();
        onTake();
      }}
    >
      <label>
        {words.kind}
        <select value={kind} onChange={({ target }) => setKind(target.value as OutKind)}>
          {outKinds.map((one) => (
            <option key={one} value={one}>
              {words.kinds[one]}
            </option>
          ))}
        </select>
      </label>
      <label>
        {words.which}
        <select value={thing?.id ?? ""} onChange={({ target }) => setChosen(target.value)}>
          {all.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {kind !== "tender" && (
        <>
          <DaySelect label={words.from} dates={dates} value={from} onChange={setFrom} />
          <DaySelect label={words.to} dates={dates.filter((date) => date >= from)} value={to} onChange={setTo} />
        </>
      )}
      <button type="submit" disabled={isAsking || thing === undefined}>
        {words.take}
      </button>
      {kind === "tender" && <p className="wide">{words.tenderText}</p>}
      {kind === "crew" && <p className="wide">{words.crewText}</p>}
      {problem !== null && (
        <p className="wide bad" role="alert">
          {problem}
        </p>
      )}
      {error !== null && <Failure error={error} />}
    </form>
  );
}

function DaySelect({
  dates,
  label,
  onChange,
  value,
}: {
  readonly label: string;
  readonly dates: readonly string[];
  readonly value: string;
  readonly onChange: (date: string) => void;
}) {
  return (
    <label>
      {label}
      <select value={value} onChange={({ target }) => onChange(target.value)}>
        {dates.map((date) => (
          <option key={date} value={date}>
            {shortDayWords(date)}
          </option>
        ))}
      </select>
    </label>
  );
}

const spanWords = (from: string, to: string) =>
  from === to ? words.onDay(shortDayWords(from)) : words.onDays(shortDayWords(from), shortDayWords(to));
