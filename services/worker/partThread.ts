import { parentPort, workerData } from "node:worker_threads";
import type { StudyKind } from "../../shared/contracts/studies.ts";
import type { FromPartThread, PartWork } from "./runPart.ts";
import type { WorkPart } from "./studies/workPart.ts";

/** Works one part of a study, then ends. Of each kind only what it needs is loaded. */
const kinds: Readonly<Record<StudyKind, () => Promise<WorkPart<unknown>>>> = {
  cases: async () => (await import("./studies/workCases.ts")).workCases,
};

const work = workerData as PartWork;
const say = (message: FromPartThread) => parentPort!.postMessage(message);
const workPart = await kinds[work.input.kind]();
const result = await workPart(work, (share) => say({ kind: "share", share }));
say({ kind: "result", result });
