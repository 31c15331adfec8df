import type { PlanProgress } from "../../shared/contracts/planRequests.ts";

const everyMs = 250;

export interface Reporter {
  onProgress(progress: PlanProgress): void;
  /** Waits for a report that is on its way. */
  close(): Promise<void>;
}

/** The planner tells more often than anybody reads: the latest is passed on now and then, one report at a time. */
export function reportRegularly(
  report: (progress: PlanProgress) => Promise<{ readonly shouldStop: boolean }>,
  onShouldStop: () => void,
  onError: (error: Error) => void,
): Reporter {
  let latest: PlanProgress | null = null;
  let sending: Promise<void> | null = null;
  const send = async () => {
    if (!latest) return;
    const progress = latest;
    latest = null;
    const { shouldStop } = await report(progress);
    if (shouldStop) onShouldStop();
  };
  const timer = setInterval(() => {
    // A report that fails is not worth ending a plan for.
    sending ??= send()
      .catch(onError)
      .finally(() => {
        sending = null;
      });
  }, everyMs);
  return {
    onProgress(progress) {
      latest = progress;
    },
    async close() {
      clearInterval(timer);
      await sending;
    },
  };
}
