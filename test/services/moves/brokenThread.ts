import { parentPort } from "node:worker_threads";

/** Stands in for the thread that moves: plans named `crash` end it, `hang` are never answered, others are refused. */
parentPort!.on("message", ({ id, planId }: { id: number; planId: string }) => {
  if (planId === "crash") throw new Error("it broke");
  if (planId === "hang") for (;;);
  if (planId === "slow") return;
  parentPort!.postMessage({ id, kind: "moved", answer: { judgement: { planId }, kept: null } });
});
