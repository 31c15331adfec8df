import { useCallback, useState } from "react";
import { say } from "../kit/Say.tsx";
import { Empty, Failure, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf, go } from "../place.ts";
import { studyWords } from "../strings/studies.ts";
import { useUnits } from "../units/units.ts";
import { beginBottlenecks, fetchPlans } from "./calls.ts";
import { whenWords } from "./when.ts";

const words = studyWords.tight;
const triedChoices = [0, 3, 5, 10];
const usualTried = 5;

/** Asks where a plan is tight: what one more of each thing would bring. */
export function TightForm({ operationId }: { readonly operationId: string }) {
  const asked = useAsked(useCallback((signal: AbortSignal) => fetchPlans(operationId, signal), [operationId]));
  const [chosen, setChosen] = useState<string | null>(null);
  const [tried, setTried] = useState(usualTried);
  const [error, setError] = useState<Error | null>(null);
  const units = useUnits();
  return (
    <Shown asked={asked}>
      {(plans) => {
        const plan = chosen ?? plans.find(({ state }) => state === "published")?.id ?? plans[0]?.id;
        if (plan === undefined) return <Empty>{words.noPlans}</Empty>;
        return (
          <form
            onSubmit={(event) => {
              event.preventDefault();
              setError(null);
              beginBottlenecks(plan, tried).then(({ id }) => {
                say(studyWords.started);
                go(addressOf("cases", "run", id));
              }, setError);
            }}
          >
            <p>{words.text}</p>
            <div className="fieldGrid">
              <label>
                {words.plan}
                <select value={plan} onChange={({ target }) => setChosen(target.value)}>
                  {plans.map(({ createdAt, id, state, totals }) => (
                    <option key={id} value={id}>
                      {words.planWords(whenWords(createdAt), units.areaHa(totals.servedHa), words.states[state])}
                    </option>
                  ))}
                </select>
              </label>
              <label>
                {words.tried}
                <select value={tried} onChange={({ target }) => setTried(Number(target.value))}>
                  {triedChoices.map((count) => (
                    <option key={count} value={count}>
                      {count}
                    </option>
                  ))}
                </select>
                <small>{words.triedHint}</small>
              </label>
            </div>
            {error !== null && <Failure error={error} />}
            <p>
              <button type="submit" className="main">
                {words.begin}
              </button>
            </p>
          </form>
        );
      }}
    </Shown>
  );
}
