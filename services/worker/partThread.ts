import { parentPort } from "node:worker_threads";
import type { StudyKind } from "../../shared/contracts/studies.ts";
import type { FromPartThread, PartWork } from "./partThreads.ts";
import type { WorkPart } from "./studies/workPart.ts";

/** Works parts of studies, one after the other as they come. Of each kind only what it needs is loaded. */
const kinds: Readonly<Record<StudyKind, () => Promise<WorkPart<unknown>>>> = {
  cases: async () => (await import("./studies/workCases.ts")).workCases,
  remedies: async () => (await import("./studies/workRemedies.ts")).workRemedies,
  bottlenecks: async () => (await import("./studies/workBottlenecks.ts")).workBottlenecks,
};

const port = parentPort!;
const say = (message: FromPartThread) => port.postMessage(message);

port.on("message", async (work: PartWork) => {
  const workPart = await kinds[work.input.kind]();
  const result = await workPart(work, (share) => say({ kind: "share", share }));
  say({ kind: "result", result });
});
