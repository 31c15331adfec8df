import { Worker } from "node:worker_threads";
import type { PlanProgress } from "../../shared/contracts/planRequests.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { ThreadInput, ThreadMessage } from "./threadMessages.ts";

export type RunOutcome =
  | { readonly status: "planned"; readonly plan: Plan; readonly report: CheckReport }
  | { readonly status: "crashed"; readonly message: string }
  | { readonly status: "killed" };

export interface PlanRun {
  readonly outcome: Promise<RunOutcome>;
  /** Asks for the best plan so far; kills the thread when it does not come within the time. */
  stop(withinMs: number): void;
  kill(): void;
}

/** A thread does not inherit the loader for TypeScript from how its process was started, so it registers it itself. */
const loader = import.meta.resolve("tsx/esm/api");
const bootstrap = (script: URL) =>
  `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(script.href)}); })`;

export function runPlan(
  script: URL,
  input: Omit<ThreadInput, "stopFlag">,
  onProgress: (progress: PlanProgress) => void,
): PlanRun {
  const stopFlag = new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT);
  const workerData: ThreadInput = { ...input, stopFlag };
  const thread = new Worker(bootstrap(script), { eval: true, workerData });
  let killed = false;
  let timer: NodeJS.Timeout | undefined;
  const kill = () => {
    killed = true;
    void thread.terminate();
  };

  const outcome = new Promise<RunOutcome>((resolve) => {
    thread.on("message", (message: ThreadMessage) => {
      if (message.kind === "progress") onProgress(message.progress);
      else resolve({ status: "planned", plan: message.plan, report: message.report });
    });
    thread.on("error", (error) => resolve({ status: "crashed", message: error.message }));
    thread.on("exit", (code) =>
      resolve(
        killed
          ? { status: "killed" }
          : { status: "crashed", message: `the planner has ended with ${code}, without a plan` },
      ),
    );
  }).finally(() => clearTimeout(timer));

  return {
    outcome,
    stop(withinMs) {
      Atomics.store(new Int32Array(stopFlag), 0, 1);
      timer ??= setTimeout(kill, withinMs);
    },
    kill,
  };
}
