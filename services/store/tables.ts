import type { ColumnType, Generated, JSONColumnType } from "kysely";
import type { PlanFailure, PlanProgress, PlanStatus } from "../../shared/contracts/planRequests.ts";
import type { PartFailure, StudyFailure, StudyKind } from "../../shared/contracts/studies.ts";

/** pg hands timestamps over as Date; they are always set by the database. */
type Timestamp = ColumnType<Date, never, never>;
type LaterTimestamp = ColumnType<Date | null, never, Date | null>;
/** Written as JSON text, read parsed; what it holds is judged by the schemas when it is read. */
type Document = ColumnType<unknown, string, never>;
type LaterDocument = ColumnType<unknown, never, string | null>;

export interface Tables {
  operations: {
    id: string;
    name: string;
  };
  operation_versions: {
    operation_id: string;
    version: number;
    document: Document;
    digest: string;
    created_at: Timestamp;
  };
  plan_requests: {
    id: string;
    operation_id: string;
    version: number;
    seconds: number | null;
    iterations: number | null;
    /** A bigint, which pg hands over as text. */
    seed: ColumnType<string, number, never>;
    status: Generated<PlanStatus>;
    starts: Generated<number>;
    cancel_wanted: Generated<boolean>;
    progress: JSONColumnType<PlanProgress> | null;
    failure: JSONColumnType<PlanFailure> | null;
    created_at: Timestamp;
    started_at: LaterTimestamp;
    ended_at: LaterTimestamp;
  };
  plans: {
    request_id: string;
    plan: Document;
    report: Document;
    created_at: Timestamp;
  };
  case_sets: {
    id: string;
    operation_id: string;
    name: string;
  };
  case_set_versions: {
    case_set_id: string;
    version: number;
    document: Document;
    digest: string;
    created_at: Timestamp;
  };
  studies: {
    id: string;
    kind: StudyKind;
    operation_id: string;
    version: number;
    plan_id: string | null;
    case_set_id: string | null;
    case_set_version: number | null;
    ask: Document;
    status: Generated<PlanStatus>;
    cancel_wanted: Generated<boolean>;
    result: LaterDocument;
    failure: JSONColumnType<StudyFailure> | null;
    created_at: Timestamp;
    started_at: LaterTimestamp;
    ended_at: LaterTimestamp;
  };
  study_parts: {
    study_id: string;
    part: number;
    ask: Document;
    status: Generated<PlanStatus>;
    starts: Generated<number>;
    share: Generated<number>;
    result: LaterDocument;
    failure: JSONColumnType<PartFailure> | null;
    started_at: LaterTimestamp;
    ended_at: LaterTimestamp;
  };
}
