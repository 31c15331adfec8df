import { createHash } from "node:crypto";
import { parentPort } from "node:worker_threads";
import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { planDifference } from "../../shared/replan/planDifference.ts";
import { replanOperation } from "../../shared/replan/replanOperation.ts";
import { prepareFor, type Standing, standingOf } from "../solver/moves/standing.ts";
import type { Prepared } from "../solver/planOperation.ts";
import { createKept } from "../threads/kept.ts";
import { judgeMoves, refusedPlan } from "./judgeMoves.ts";
import type { FromMoveThread, MoveQuestion, ToMoveThread } from "./messages.ts";

/** Our choice: a compiled week of 500 orders takes some 100 MB. */
const operations = createKept<Operation>(2);
const compiled = createKept<Prepared>(2);
const plans = createKept<{ readonly plan: Plan; readonly standing: Standing | null }>(6);

const port = parentPort!;
const say = (message: FromMoveThread) => port.postMessage(message);

port.on("message", (message: ToMoveThread) => {
  const { id } = message;
  try {
    switch (message.kind) {
      case "move":
        return answerMove(id, message);
      case "check":
        return say({ id, kind: "checked", answer: checkPlan(message.operation, message.plan) });
      case "replan":
        return say({ id, kind: "replanned", answer: replanOperation(message.ask) });
      case "difference": {
        const { before, now, fates } = message;
        return say({ id, kind: "differs", answer: planDifference(before, now, fates) });
      }
    }
  } catch (error) {
    // A bug with one plan must not cost the others what is compiled.
    say({ id, kind: "failed", message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});

function answerMove(id: number, question: MoveQuestion): void {
  const { operationKey, planId, moves, isKept, locksNow } = question;
  if (question.operation !== undefined) operations.put(operationKey, question.operation);
  const operation = operations.get(operationKey);
  let known = plans.get(planId);
  if (known === undefined && operation !== undefined && question.plan !== undefined) {
    const { plan } = question;
    known = { plan, standing: standingOf(preparedFor(operationKey, operation, plan), plan) };
    plans.put(planId, known);
  }
  if (known === undefined) say({ id, kind: "needs", operation: operation === undefined });
  else {
    const { plan, standing } = known;
    const answer = standing === null ? refusedPlan(plan) : judgeMoves(standing, moves, isKept, locksNow);
    say({ id, kind: "moved", answer });
  }
}

function preparedFor(operationKey: string, operation: Operation, plan: Plan): Prepared {
  // Drafts that are made of each other are cut alike but for the last digits.
  const cut = plan.blocks.map(({ id, areaHa }) => [id, areaHa.toFixed(2)]);
  const ofPlan = createHash("sha256")
    .update(JSON.stringify([plan.published ?? null, cut]))
    .digest("hex");
  const key = `${operationKey} ${ofPlan}`;
  const known = compiled.get(key);
  if (known !== undefined) return known;
  const prepared = prepareFor(operation, plan, createAgronomy(operation, createCalendar(operation.settings)));
  compiled.put(key, prepared);
  return prepared;
}
