import { parentPort } from "node:worker_threads";

/** Stands in for the thread that makes views: crews named `crash` end it, `hang` keep it busy for ever, numbers for so many milliseconds. Tells how many plans it was sent. */
let plans = 0;
const kept = new Set<string>();
type Asked = { id: number; kind: string; planId: string; wanted?: { crewId?: string } };

parentPort!.on("message", ({ id, kind, planId, wanted }: Asked) => {
  const say = (said: object) => parentPort!.postMessage({ id, ...said });
  if (kind === "keep") {
    plans++;
    kept.add(planId);
    return say({ kind: "kept" });
  }
  if (!kept.has(planId)) return say({ kind: "needs" });
  const crewId = wanted?.crewId ?? "";
  if (crewId === "crash") throw new Error("it broke");
  if (crewId === "fail") return say({ kind: "failed", message: "a bug" });
  if (crewId === "hang") for (;;);
  const until = performance.now() + Number(crewId);
  while (performance.now() < until);
  say({ kind: "made", view: { bytes: Buffer.from(JSON.stringify({ crewId, plans })), fileName: null } });
});
