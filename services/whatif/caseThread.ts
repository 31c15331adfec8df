import { parentPort, workerData } from "node:worker_threads";
import type { RunOutcome } from "../../shared/cases/runResult.ts";
import { loadHighs } from "../linear/highs.ts";
import { createUnitRunner, type UnitMeans } from "./runUnit.ts";
import type { Unit } from "./unit.ts";

/** What a thread is given once; then it is told one unit after the other. */
export type ThreadInput = Pick<UnitMeans, "operation" | "season" | "budget">;
export type FromThread = { readonly kind: "outcome"; readonly outcome: RunOutcome } | { readonly kind: "idle" };

const port = parentPort!;
const say = (message: FromThread) => port.postMessage(message);
const linear = await loadHighs();
const runUnit = createUnitRunner({
  ...(workerData as ThreadInput),
  linear,
  seconds: () => performance.now() / 1000,
});

port.on("message", (unit: Unit) => {
  runUnit(unit, (outcome) => say({ kind: "outcome", outcome }));
  say({ kind: "idle" });
});
say({ kind: "idle" });
