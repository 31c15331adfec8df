import { parentPort, workerData } from "node:worker_threads";
import { prepareOperation } from "../../../../services/solver/planOperation.ts";
import { createRandom } from "../../../../services/solver/random.ts";
import { snapshotOf } from "../../../../services/solver/snapshot.ts";
import { solve } from "../../../../services/solver/solve.ts";
import type { FromThread, ThreadInput } from "../../../../services/worker/threadMessages.ts";

/** The second thread searches long, tells its plan and no more; the first is the real planner, which begins when that plan lies in its port. */
const { index, operation, control } = workerData as ThreadInput;
const cells = new BigInt64Array(control);
const begun = 1;
if (index === 1) {
  const { problem } = prepareOperation(operation);
  const { state } = solve(problem.routes, { random: createRandom(7), doneShare: (done) => done / 250 });
  const say = (message: FromThread) => parentPort!.postMessage(message);
  say({ kind: "better", snapshot: snapshotOf(problem, state) });
  // The main thread hands it on meanwhile.
  await new Promise((resolve) => setTimeout(resolve, 500));
  Atomics.store(cells, begun, process.hrtime.bigint());
  say({ kind: "ended", iterations: 0, snapshot: null });
} else {
  while (Atomics.load(cells, begun) === 0n) await new Promise((resolve) => setTimeout(resolve, 20));
  await import("../../../../services/worker/planThread.ts");
}
