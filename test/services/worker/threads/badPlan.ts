import { parentPort, workerData } from "node:worker_threads";
import type { FromThread, ThreadInput } from "../../../../services/worker/threadMessages.ts";
import { ruleNames } from "../../../../shared/plan/check/report.ts";
import { emptyPlan } from "../../../support/emptyPlan.ts";

/** A planner whose plan the checker faults. */
const { operation, seed } = workerData as ThreadInput;
const checked = Object.fromEntries(ruleNames.map((rule) => [rule, 0])) as Record<(typeof ruleNames)[number], number>;
const breach = { rule: "wind", sentence: "wind 21 km/h, label allows 15", orderId: "O-1" } as const;
const message: FromThread = {
  kind: "planned",
  plan: emptyPlan(operation, seed),
  report: { ok: false, checked, breaches: [breach] },
};
parentPort!.postMessage(message);
