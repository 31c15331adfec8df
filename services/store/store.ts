import type { OperationSummary, OperationVersion, OperationVersionEntry } from "../../shared/contracts/operations.ts";
import type { PlanFailure, PlanProgress, PlanRequest, PlanStatus } from "../../shared/contracts/planRequests.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { Acting, Made } from "./acting.ts";
import type { ApplicationRecordStore } from "./applicationRecords.ts";
import type { CaseSetStore } from "./caseSets.ts";
import type { ChangeOutcome, Judged } from "./changeOperation.ts";
import type { DeadLetterStore } from "./deadLetters.ts";
import type { VersionOutcome } from "./newVersion.ts";
import type { LatestParts } from "./operationParts.ts";
import type { PeopleStore } from "./peopleStore.ts";
import type { PlanStore } from "./plans.ts";
import type { PublicationStore } from "./publications.ts";
import type { ReplanStore } from "./replans.ts";
import type { StandingStore } from "./standing.ts";
import type { GivenBack, Heard } from "./starts.ts";
import type { Stretch } from "./stretch.ts";
import type { StudyStore } from "./studyStore.ts";
import type { WorkReportStore } from "./workReports.ts";

/** How long to plan: exactly one of the two is given. */
export type PlanBudget = { readonly seconds: number } | { readonly iterations: number };

export interface NewPlanRequest {
  readonly operationId: string;
  readonly version: number;
  readonly budget: PlanBudget;
  readonly seed: number;
}

/**
 * What a worker needs to begin. `start` numbers this start of the request. `skip` when the request is unknown, ended, cancelled or was started too often; `busy` when another worker has
 * it and has told not long ago that it lives (`silentAfterS`).
 */
export type StartOutcome =
  | {
      readonly status: "go";
      readonly start: number;
      /** With as little memory as will do: it did not suffice before. */
      readonly alone: boolean;
      readonly operation: Operation;
      readonly budget: PlanBudget;
      readonly seed: number;
      /** What crews have been told, where it is to be planned again. */
      readonly from: Plan | null;
    }
  | { readonly status: "skip" | "busy" };

/** What became of a request. A cancelled one keeps the plan that it had when it was stopped, if any. */
export type PlanOutcome =
  | { readonly status: "done"; readonly plan: Plan; readonly report: CheckReport }
  | { readonly status: "cancelled"; readonly best: { readonly plan: Plan; readonly report: CheckReport } | null }
  | { readonly status: "failed"; readonly failure: PlanFailure };

/**
 * The truth about operations, plan requests and plans, sets of cases and studies. Left out on purpose: which worker runs what, and when; that is
 * the queue's. A request may be started twice (a worker dies, a lock is lost); its outcome is written once.
 */
export interface Store
  extends CaseSetStore,
    StudyStore,
    DeadLetterStore,
    PlanStore,
    PublicationStore,
    PeopleStore,
    WorkReportStore,
    ApplicationRecordStore,
    ReplanStore,
    StandingStore {
  importOperation(operation: Operation, acting: Acting): Promise<VersionOutcome>;
  /** Makes a version of what `judge` makes of the latest one; it is called while nobody else can make one. */
  changeOperation<Refusal>(
    operationId: string,
    judge: (latest: OperationVersion) => Judged<Refusal>,
    acting: Acting,
    details: object,
  ): Promise<ChangeOutcome<Refusal>>;
  /** By name; `text`: only those with it in their names, whatever the case. */
  listOperations(asked?: Stretch & { readonly text: string | null }): Promise<OperationSummary[]>;
  operationSummary(operationId: string): Promise<OperationSummary | null>;
  latestOperation(operationId: string): Promise<OperationVersion | null>;
  operationVersion(operationId: string, version: number): Promise<OperationVersion | null>;
  latestParts<Name extends keyof Operation>(
    operationId: string,
    names: readonly Name[],
  ): Promise<LatestParts<Name> | null>;
  /** Newest first; `after` is the number of a version. */
  versionsOf(operationId: string, stretch: Stretch): Promise<OperationVersionEntry[]>;

  addPlanRequest(request: NewPlanRequest, acting: Acting): Promise<Made<PlanRequest>>;
  planRequest(requestId: string): Promise<PlanRequest | null>;
  /** Newest first. */
  planRequestsOf(operationId: string, asked?: Stretch & { readonly status: PlanStatus | null }): Promise<PlanRequest[]>;
  /** Requests that are queued or running, oldest first. */
  unfinishedRequests(): Promise<Pick<PlanRequest, "id" | "kind">[]>;

  startRequest(requestId: string): Promise<StartOutcome>;
  /** That the worker of this start lives, and how far it is; null: no further than told before. The answer says why to stop, if so. */
  reportProgress(requestId: string, start: number, progress: PlanProgress | null): Promise<Heard>;
  /** Back to queued. */
  returnRequest(requestId: string, back: GivenBack): Promise<void>;
  /** A queued request is cancelled at once; a running one is marked, for its worker to stop. */
  requestCancel(requestId: string, acting: Acting): Promise<PlanRequest | null>;
  /** False when an outcome was there before: this one is dropped. */
  finishRequest(requestId: string, outcome: PlanOutcome): Promise<boolean>;

  /** Calls back when the plan request, study or operation's work may have changed; now and then without reason. The returned function ends it. */
  watch(id: string, onChange: () => void): () => void;

  close(): Promise<void>;
}
