import { useMemo, useState } from "react";
import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { StoredReport } from "../../../../../shared/contracts/plans.ts";
import type { Lock } from "../../../../../shared/model/locks.ts";
import type { LockKind } from "../../../../../shared/plan/planLocks.ts";
import { ask, get, pathOf, post } from "../../api/call.ts";
import { dayWords } from "../../kit/dates.ts";
import { say } from "../../kit/Say.tsx";
import { Failure, Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { chosenWords as words } from "../../strings/chosen.ts";
import { kindsOf } from "../locks.ts";
import type { ChosenProps } from "./Chosen.tsx";

interface LockAnswer {
  readonly operation: OperationSummary;
  readonly lock: Lock | null;
  readonly check: StoredReport;
}

/** What is locked of a crew's day: it holds for whatever is planned from then on. */
export function CrewDayLock({
  crewId,
  crewName,
  date,
  onOperationChanged,
  operation,
  plan,
}: Pick<ChosenProps, "operation" | "plan" | "onOperationChanged"> & {
  readonly crewId: string;
  readonly crewName: string;
  readonly date: string;
}) {
  const { id, version } = operation;
  const locks = useAsked(
    // biome-ignore lint/correctness/useExhaustiveDependencies: another version may have other locks.
    useMemo(
      () => (signal) =>
        get<{ version: number; entries: { entry: Lock }[] }>(
          pathOf`/api/operations/${id}/locks?crew=${crewId}&date=${date}`,
          signal,
        ),
      [id, version, crewId, date],
    ),
  );
  const [error, setError] = useState<Error | null>(null);
  const [isBusy, setIsBusy] = useState(false);
  const [broken, setBroken] = useState<readonly string[]>([]);

  const change = (asking: Promise<LockAnswer>) => {
    setIsBusy(true);
    setError(null);
    asking
      .then(({ check, lock }) => {
        setBroken(lock === null ? [] : check.breaches.map(({ sentence }) => sentence));
        say((lock === null ? words.unlockedSaid : words.lockedSaid)(crewName, dayWords(date)));
        locks.again();
        onOperationChanged();
      }, setError)
      .finally(() => setIsBusy(false));
  };
  const lock = (what: LockKind, known: number) =>
    change(post(pathOf`/api/plans/${plan.id}/locks`, { crewId, date, what, version: known }));
  const unlock = (known: number) =>
    change(
      ask<LockAnswer>(pathOf`/api/plans/${plan.id}/locks/${crewId}/${date}?version=${String(known)}`, {
        method: "DELETE",
      }).then(({ body }) => body),
    );
  return (
    <Shown asked={locks}>
      {({ entries, version: known }) => {
        const now = entries[0]?.entry ?? null;
        return (
          <>
            <h3>{words.locked}</h3>
            <p>
              {now === null
                ? words.notLocked
                : `${kindsOf(now)
                    .map((kind) => words.lockedWords[kind])
                    .join(", ")}.`}
            </p>
            {error !== null && <Failure error={error} />}
            {broken.length > 0 && (
              <div role="status">
                <p>{words.lockBreaks}</p>
                <ul>
                  {broken.slice(0, 5).map((sentence) => (
                    <li key={sentence}>{sentence}</li>
                  ))}
                </ul>
              </div>
            )}
            <p className="buttons">
              <button type="button" disabled={isBusy} onClick={() => lock("asItStands", known)}>
                {words.lockAsItStands}
              </button>
              <button type="button" disabled={isBusy} onClick={() => lock("stops", known)}>
                {words.lockStops}
              </button>
              {now !== null && (
                <button type="button" disabled={isBusy} onClick={() => unlock(known)}>
                  {words.unlock}
                </button>
              )}
            </p>
          </>
        );
      }}
    </Shown>
  );
}
