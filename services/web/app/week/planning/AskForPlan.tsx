import { useState } from "react";
import type { PlanRequest } from "../../../../../shared/contracts/planRequests.ts";
import { pathOf, post } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { say } from "../../kit/Say.tsx";
import { Failure } from "../../kit/states.tsx";
import { common } from "../../strings/common.ts";
import { planningWords } from "../../strings/planning.ts";
import { useWatched } from "./RunningPlans.tsx";
import { watchOf } from "./requestWatch.ts";

/** Our choice: to look, for a morning, for a week that is published. */
export const planSeconds = [10, 60, 300] as const;

export function HowLong({
  onChange,
  seconds,
}: {
  readonly seconds: number;
  readonly onChange: (seconds: number) => void;
}) {
  return (
    <fieldset className="choices">
      <legend>{planningWords.howLong}</legend>
      {planSeconds.map((one) => (
        <label key={one} className="inline">
          <input type="radio" name="seconds" checked={one === seconds} onChange={() => onChange(one)} />
          {planningWords.seconds(one)}
        </label>
      ))}
    </fieldset>
  );
}

export function AskForPlan({ onClose, operationId }: { readonly operationId: string; readonly onClose: () => void }) {
  const [seconds, setSeconds] = useState<number>(60);
  const [isAsking, setIsAsking] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  const isBusy = useWatched(operationId).some(({ request }) => request.endedAt === null);
  const begin = () => {
    setIsAsking(true);
    post<PlanRequest>(pathOf`/api/operations/${operationId}/plans`, { seconds }).then(
      () => {
        watchOf(operationId).look();
        say(planningWords.begun);
        onClose();
      },
      (failed: Error) => {
        setIsAsking(false);
        setError(failed);
      },
    );
  };
  return (
    <Dialog title={planningWords.askTitle} onClose={onClose}>
      <p>{planningWords.askText}</p>
      <HowLong seconds={seconds} onChange={setSeconds} />
      {isBusy && <p>{planningWords.busy}</p>}
      {error !== null && <Failure error={error} />}
      <p className="buttons">
        <button type="button" className="main" disabled={isAsking} onClick={begin}>
          {planningWords.begin}
        </button>
        <button type="button" onClick={onClose}>
          {common.cancel}
        </button>
      </p>
    </Dialog>
  );
}
