import type { Operation } from "../../shared/model/operation.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { ProvenBound } from "../../shared/plan/proof.ts";
import type { Snapshot } from "../solver/snapshot.ts";
import type { Progress } from "../solver/solve.ts";
import type { LeftOut } from "../solver/startFrom.ts";
import type { PlanBudget } from "../store/store.ts";

/** What one of the threads of a run is to do. */
export interface ThreadInput {
  readonly operation: Operation;
  readonly budget: PlanBudget;
  readonly seed: number;
  readonly from?: Plan;
  readonly published?: Plan;
  /** Number of the thread in the run. */
  readonly index: number;
  /** Whether it searches, after the bound where it has one to prove. */
  readonly searches: boolean;
  /** Whether it goes on from better plans of other threads. */
  readonly takesOver: boolean;
  /** So long from the beginning of the run it may work on a bound; 0: it does not. */
  readonly boundSeconds: number;
  readonly control: SharedArrayBuffer;
}

export type ToThread =
  | { readonly kind: "better"; readonly snapshot: Snapshot }
  | {
      readonly kind: "finish";
      readonly snapshot: Snapshot;
      readonly iterations: number;
      readonly bound: ProvenBound | null;
    };

export type FromThread =
  /** What no longer holds of the plan to start from; only the first thread tells. */
  | { readonly kind: "leftOut"; readonly left: readonly LeftOut[] }
  /** What of it holds, before anything is searched for; likewise. */
  | { readonly kind: "first"; readonly plan: Plan; readonly report: CheckReport; readonly seconds: number }
  /** So many windows of ground, aircraft type and night were worked out; told before anything is searched. */
  | { readonly kind: "compiled"; readonly windows: number }
  | { readonly kind: "progress"; readonly progress: Progress }
  | { readonly kind: "better"; readonly snapshot: Snapshot }
  | { readonly kind: "bound"; readonly bound: ProvenBound }
  /** Search and bound are at an end; the thread waits to be told to finish the plan. */
  | { readonly kind: "ended"; readonly iterations: number; readonly snapshot: Snapshot | null }
  | { readonly kind: "planned"; readonly plan: Plan; readonly report: CheckReport };
