import type { Operation } from "../../shared/model/operation.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { ReplanAsk, Replanned } from "../../shared/replan/ask.ts";
import type { PlanDifference } from "../../shared/replan/difference.ts";
import { createAskedThread } from "../threads/askedThread.ts";
import { within } from "../threads/within.ts";
import type { DifferenceQuestion, FromMoveThread, Judged, MoveQuestion, ToMoveThread } from "./messages.ts";

/** `busy`: too many ask at once. `late`: not within the time, but what was compiled meanwhile is kept. `crashed`: the thread ended; the next question starts another. */
export type Asked<Answer> =
  | { readonly status: "answered"; readonly answer: Answer }
  | { readonly status: "busy" | "late" | "crashed" };

export interface MoveAsk extends Pick<MoveQuestion, "operationKey" | "planId" | "moves" | "isKept" | "locksNow"> {
  /** Read only where the thread does not have them yet. */
  readonly readOperation: () => Promise<Operation>;
  readonly readPlan: () => Promise<Plan>;
}

/** Judges plans away from the thread that answers callers: moving needs the compiled week, and checking a large one takes half a second. */
export interface Mover {
  move(ask: MoveAsk): Promise<Asked<Judged>>;
  check(operation: Operation, plan: Plan): Promise<Asked<CheckReport>>;
  /** What is to be planned again. */
  replan(ask: ReplanAsk): Promise<Asked<Replanned>>;
  difference(question: Omit<DifferenceQuestion, "kind">): Promise<Asked<PlanDifference>>;
  close(): Promise<void>;
}

export interface MoverOptions {
  readonly onError: (error: unknown) => void;
  readonly limits?: Partial<MoverLimits>;
  readonly script?: URL;
}

export interface MoverLimits {
  /** Questions that are not answered yet. */
  readonly most: number;
  readonly answerMs: number;
  /** A thread that is silent so long with a question before it is ended. */
  readonly silentMs: number;
}

/** Our choice: a first answer on 2,000 orders takes some ten seconds of compiling. */
const usualLimits: MoverLimits = { most: 16, answerMs: 10_000, silentMs: 90_000 };
const ownScript = new URL("./moveThread.ts", import.meta.url);

type Body<Message> = Message extends { readonly id: number } ? Omit<Message, "id"> : never;
type Said = Exclude<Body<FromMoveThread>, { kind: "failed" }>;

export function createMover({ onError, limits, script = ownScript }: MoverOptions): Mover {
  const { most, answerMs, silentMs } = { ...usualLimits, ...limits };
  const thread = createAskedThread<Body<ToMoveThread>, Said>({
    name: "moves",
    script,
    limits: { most, silentMs, restMs: null },
    onError,
  });
  const { isBusy } = thread;
  const ask = async (question: Body<ToMoveThread>): Promise<Said | "late" | "crashed"> => {
    // The question stays with the thread, so that those who ask meanwhile are told that it is busy.
    const answer = await within(answerMs, thread.ask(question));
    return answer ?? "late";
  };

  return {
    async move({ readOperation, readPlan, ...question }) {
      if (isBusy()) return { status: "busy" };
      const first = await ask({ kind: "move", ...question });
      if (typeof first === "string") return { status: first };
      if (first.kind === "moved") return { status: "answered", answer: first.answer };
      if (first.kind !== "needs") throw new Error(`a move was answered with ${first.kind}`);
      const operation = first.operation ? { operation: await readOperation() } : {};
      const second = await ask({ kind: "move", ...question, ...operation, plan: await readPlan() });
      if (typeof second === "string") return { status: second };
      if (second.kind === "moved") return { status: "answered", answer: second.answer };
      // Others have pushed the operation out between the two.
      return { status: "busy" };
    },
    async check(operation, plan) {
      if (isBusy()) return { status: "busy" };
      const said = await ask({ kind: "check", operation, plan });
      if (typeof said === "string") return { status: said };
      if (said.kind !== "checked") throw new Error(`a check was answered with ${said.kind}`);
      return { status: "answered", answer: said.answer };
    },
    async replan(wanted) {
      if (isBusy()) return { status: "busy" };
      const said = await ask({ kind: "replan", ask: wanted });
      if (typeof said === "string") return { status: said };
      if (said.kind !== "replanned") throw new Error(`a replan was answered with ${said.kind}`);
      return { status: "answered", answer: said.answer };
    },
    async difference(question) {
      if (isBusy()) return { status: "busy" };
      const said = await ask({ kind: "difference", ...question });
      if (typeof said === "string") return { status: said };
      if (said.kind !== "differs") throw new Error(`a difference was answered with ${said.kind}`);
      return { status: "answered", answer: said.answer };
    },
    close: thread.close,
  };
}
