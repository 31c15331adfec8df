import type { PlanStatus } from "../../shared/contracts/planRequests.ts";
import type { PartFailure, Study, StudyFailure, StudyKind, StudySummary } from "../../shared/contracts/studies.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { Acting, Made } from "./acting.ts";
import type { GivenBack, Heard } from "./starts.ts";
import type { Stretch } from "./stretch.ts";

export interface StudiesAsked extends Stretch {
  readonly status: PlanStatus | null;
  readonly kind: StudyKind | null;
}

export interface NewStudy {
  readonly kind: StudyKind;
  readonly operationId: string;
  readonly version: number;
  readonly planId?: string;
  readonly caseSet?: { readonly id: string; readonly version: number };
  readonly ask: object;
  /** What each part is to do, at least one. */
  readonly parts: readonly object[];
}

/** Where a part is: its study and its place in it. */
export interface PartKey {
  readonly studyId: string;
  readonly part: number;
}

/** The least turn is worked first: 0 of what somebody waits for, and from 1 on in batches (turns.ts). */
export interface PartInTurn extends PartKey {
  readonly turn: number;
}

/** All that a study stands on. */
export interface StudyInput {
  readonly kind: StudyKind;
  readonly ask: unknown;
  readonly operation: Operation;
  /** The document of the set of cases, as it was stored. */
  readonly cases: unknown;
  readonly plan: Plan | null;
}

/** As of a plan request (StartOutcome). */
export type PartStart =
  | {
      readonly status: "go";
      readonly start: number;
      readonly alone: boolean;
      readonly input: StudyInput;
      readonly partAsk: unknown;
    }
  | { readonly status: "skip" | "busy" };

export type PartOutcome =
  | { readonly status: "done"; readonly result: unknown }
  | { readonly status: "failed"; readonly failure: PartFailure }
  | { readonly status: "cancelled" };

/** A part of a study whose parts have all ended and that nobody wants cancelled. */
export type EndedPart =
  | { readonly ask: unknown; readonly status: "done"; readonly result: unknown }
  | { readonly ask: unknown; readonly status: "failed"; readonly failure: PartFailure };

export type StudyOutcome =
  | { readonly status: "done"; readonly result: unknown }
  | { readonly status: "failed"; readonly failure: StudyFailure };

/**
 * Studies are made of parts that are worked in any order by any worker. A part may be begun twice (a worker dies, a lock is lost); its outcome is written once.
 * When all parts have ended the study waits for its conclusion, which may be drawn twice and is written once.
 */
export interface StudyStore {
  addStudy(study: NewStudy, acting: Acting): Promise<Made<Study>>;
  study(studyId: string): Promise<Study | null>;
  /** Newest first. */
  studiesOf(operationId: string, asked?: StudiesAsked): Promise<StudySummary[]>;
  /** Parts that are queued or running, so many at most, in their turns; of the same turn those of the oldest study first. */
  unfinishedParts(most: number): Promise<PartInTurn[]>;
  /** Of one study those that are queued or running. */
  turnsOf(studyId: string): Promise<PartInTurn[]>;

  startPart(key: PartKey): Promise<PartStart>;
  /** That the worker of this start lives, and how much of the part is done. The answer says why to stop, if so. */
  reportPart(key: PartKey, start: number, share: number): Promise<Heard>;
  /** Back to queued. */
  returnPart(key: PartKey, back: GivenBack): Promise<void>;
  /** False when an outcome was there before: this one is dropped. */
  finishPart(key: PartKey, outcome: PartOutcome): Promise<boolean>;

  /** Parts that wait are cancelled at once, and so is the study when none of them runs. `running`: those that their workers have to stop. */
  cancelStudy(studyId: string, acting: Acting): Promise<{ readonly study: Study; readonly running: PartKey[] } | null>;

  /** Studies whose parts have all ended and that nobody has concluded, because a worker died just then. */
  studiesToConclude(): Promise<string[]>;
  /** Null unless all parts have ended and the study has not. */
  studyToConclude(studyId: string): Promise<{ readonly input: StudyInput; readonly parts: EndedPart[] } | null>;
  /** False when a conclusion was there before: this one is dropped. */
  concludeStudy(studyId: string, outcome: StudyOutcome): Promise<boolean>;
}
