import { parentPort } from "node:worker_threads";
import { createKept } from "../threads/kept.ts";
import { makeView } from "./makeView.ts";
import type { FromViewThread, ToViewThread, ViewAnswer, ViewQuestion } from "./messages.ts";
import type { Viewed } from "./wanted.ts";

/** Our choice: a week of 500 orders takes some 10 MB, and what is looked at is mostly the latest plan beside the published one. */
const plans = createKept<Viewed>(3);

const port = parentPort!;
const say = (message: FromViewThread) => port.postMessage(message);

// One after the other, so that what was asked for first is there first.
let last: Promise<void> = Promise.resolve();
port.on("message", ({ id, ...question }: ToViewThread) => {
  last = last
    .then(async () => say({ id, ...(await answerOf(question)) }))
    .catch((error: unknown) => {
      // A bug with one plan must not cost the others what is kept of theirs.
      say({ id, kind: "failed", message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    });
});

async function answerOf(question: ViewQuestion): Promise<ViewAnswer> {
  switch (question.kind) {
    case "keep":
      plans.put(question.planId, question.viewed);
      return { kind: "kept" };
    case "ofPlan": {
      const viewed = plans.get(question.planId);
      return viewed === undefined ? { kind: "needs" } : { kind: "made", view: await makeView(viewed, question.wanted) };
    }
    case "record": {
      const { recordFile } = await import("./paperFiles.ts");
      return { kind: "made", view: await recordFile(question.paper) };
    }
  }
}
