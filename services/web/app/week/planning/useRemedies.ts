import { useCallback, useEffect, useState } from "react";
import type { Remedies } from "../../../../../shared/cases/remedy.ts";
import type { Study, StudySummary } from "../../../../../shared/contracts/studies.ts";
import { ask, get, pathOf, post } from "../../api/call.ts";
import { follow } from "../../api/follow.ts";
import { say } from "../../kit/Say.tsx";
import { errorWords } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { whileSeen } from "../../kit/whileSeen.ts";

export interface RemediesOfPlan {
  /** The latest study of what would help this plan, whoever asked for it; null: none yet. */
  readonly study: StudySummary | null;
  readonly result: Remedies | null;
  /** It is being worked on. */
  readonly isOpen: boolean;
  /** All that is left out, or one order. */
  ask(orderId?: string): void;
  stop(): void;
}

const studiesLookedAt = 50;
const fail = (error: Error) => say(errorWords(error), true);

/** What would help: a study of the plan, asked for, followed and read. */
export function useRemedies(operationId: string, planId: string): RemediesOfPlan {
  const latest = useAsked(
    useCallback(
      async (signal: AbortSignal) => {
        const path = pathOf`/api/operations/${operationId}/studies?kind=remedies&limit=${String(studiesLookedAt)}`;
        const { studies } = await get<{ studies: StudySummary[] }>(path, signal);
        const found = studies.find((one) => one.planId === planId);
        return found === undefined
          ? { study: null }
          : { study: await get<Study>(pathOf`/api/studies/${found.id}`, signal) };
      },
      [operationId, planId],
    ),
  );
  const [share, setShare] = useState<{ id: string; progress: StudySummary["progress"] } | null>(null);
  const study = latest.value?.study ?? null;
  const isOpen = study !== null && (study.status === "queued" || study.status === "running");
  const openId = isOpen ? study.id : null;
  const { again } = latest;
  useEffect(() => {
    if (openId === null) return;
    return whileSeen(() =>
      follow<StudySummary["progress"]>(pathOf`/api/studies/${openId}/events`, {
        onProgress: (progress) => setShare({ id: openId, progress }),
        onDone: again,
        onSilence: () => undefined,
      }),
    );
  }, [openId, again]);
  const asking = useCallback(
    (orderId?: string) => {
      post(pathOf`/api/plans/${planId}/remedies`, orderId === undefined ? {} : { orderId }).then(again, fail);
    },
    [planId, again],
  );
  return {
    study: study !== null && share?.id === study.id && isOpen ? { ...study, progress: share.progress } : study,
    result: study?.status === "done" ? (study.result as Remedies) : null,
    isOpen,
    ask: asking,
    stop: () => {
      if (study === null) return;
      ask(pathOf`/api/studies/${study.id}/cancel`, { method: "POST" }).then(again, fail);
    },
  };
}
