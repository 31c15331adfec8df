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
          aircraft: aircraft.map(({ id, typeId }) => ({ id, name: `${typeName(typeId)}, ${id}` })),
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
  const [from, setFrom] = useState(fromNow);
  const [to, setTo] = useState(dates.at(-1) ?? fromNow);
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
      return words.aircraftOut(name, shortDayWords(from), shortDayWords(to));
    }
    let taken = 0;
    const changed = await changeThing<Crew>(pathOf`/api/operations/${operationId}/crews/${id}`, (crew) => {
      const next = crewOut(crew, span);
      taken = crew.shifts.length - (next?.shifts.length ?? crew.shifts.length);
      return next;
    });
    return changed === null ? null : words.crewOut(name, taken);
  }

  const onTake = () => {
    if (thing === undefined) return;
    setProblem(null);
    setError(null);
    if (to < from) {
      setProblem(words.wrongDays);
      return;
    }
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
          <label>
            {words.from}
            <input type="date" required value={from} onChange={({ target }) => setFrom(target.value)} />
          </label>
          <label>
            {words.to}
            <input type="date" required value={to} onChange={({ target }) => setTo(target.value)} />
          </label>
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
