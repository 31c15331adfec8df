import type { Move, MoveJudgement } from "../../shared/contracts/moves.ts";
import type { Lock } from "../../shared/model/locks.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { ReplanAsk, Replanned, StopFate } from "../../shared/replan/ask.ts";
import type { PlanDifference } from "../../shared/replan/difference.ts";
import type { Planned } from "../../shared/replan/planDifference.ts";

export interface MoveQuestion {
  readonly kind: "move";
  /** Names a version of an operation, which the thread keeps compiled. */
  readonly operationKey: string;
  readonly planId: string;
  readonly moves: readonly Move[];
  /** Whether the plan is wanted with all reasons afresh. */
  readonly isKept: boolean;
  /** What is locked by now, where the operation has been changed since; left out: what it says itself. */
  readonly locksNow?: readonly Lock[];
  /** Sent when the thread has said that it needs them. */
  readonly operation?: Operation;
  readonly plan?: Plan;
}

export interface CheckQuestion {
  readonly kind: "check";
  readonly operation: Operation;
  readonly plan: Plan;
}

export interface ReplanQuestion {
  readonly kind: "replan";
  readonly ask: ReplanAsk;
}

export interface DifferenceQuestion {
  readonly kind: "difference";
  readonly before: Planned;
  readonly now: Planned;
  readonly fates: readonly StopFate[];
}

export interface Judged {
  readonly judgement: MoveJudgement;
  /** Only where it is to be kept and may be. */
  readonly kept: { readonly plan: Plan; readonly report: CheckReport } | null;
}

export type ToMoveThread = { readonly id: number } & (
  | MoveQuestion
  | CheckQuestion
  | ReplanQuestion
  | DifferenceQuestion
);

/** `needs`: the plan, and perhaps its operation, too. */
export type FromMoveThread = { readonly id: number } & (
  | { readonly kind: "needs"; readonly operation: boolean }
  | { readonly kind: "moved"; readonly answer: Judged }
  | { readonly kind: "checked"; readonly answer: CheckReport }
  | { readonly kind: "replanned"; readonly answer: Replanned }
  | { readonly kind: "differs"; readonly answer: PlanDifference }
  | { readonly kind: "failed"; readonly message: string }
);
