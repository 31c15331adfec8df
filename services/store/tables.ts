import type { ColumnType, Generated, JSONColumnType } from "kysely";
import type { PlanFailure, PlanProgress, PlanRequestKind, PlanStatus } from "../../shared/contracts/planRequests.ts";
import type { PlanOrigin } from "../../shared/contracts/plans.ts";
import type { PartFailure, StudyFailure, StudyKind } from "../../shared/contracts/studies.ts";
import type { ActorKind } from "./acting.ts";
import type { PeopleTables } from "./peopleTables.ts";

/** pg hands timestamps over as Date; they are always set by the database. */
type Timestamp = ColumnType<Date, never, never>;
type LaterTimestamp = ColumnType<Date | null, never, Date | null>;
/** Written as JSON text, read parsed; what it holds is judged by the schemas when it is read. */
type Document = ColumnType<unknown, string, never>;
type LaterDocument = ColumnType<unknown, never, string | null>;

export interface Tables extends PeopleTables {
  operations: {
    id: string;
    name: string;
  };
  operation_versions: {
    operation_id: string;
    version: number;
    digest: string;
    /** Made of a stored version for planning again; not what people have told. */
    derived: Generated<boolean>;
    created_at: Timestamp;
  };
  /** What versions hold: a member of a document, once for all versions that have it. */
  operation_parts: {
    digest: string;
    body: Document;
  };
  operation_version_parts: {
    operation_id: string;
    version: number;
    /** Its name in the document. */
    part: string;
    digest: string;
  };
  plan_requests: {
    id: string;
    operation_id: string;
    version: number;
    kind: Generated<PlanRequestKind>;
    /** The plan that a replan starts from and counts its changes against. */
    from_plan_id: string | null;
    ask: ColumnType<unknown, string | undefined, never>;
    seconds: number | null;
    iterations: number | null;
    /** A bigint, which pg hands over as text. */
    seed: ColumnType<string, number, never>;
    status: Generated<PlanStatus>;
    starts: Generated<number>;
    /** With less memory at once: it did not suffice before. */
    alone: Generated<boolean>;
    cancel_wanted: Generated<boolean>;
    progress: JSONColumnType<PlanProgress> | null;
    failure: JSONColumnType<PlanFailure> | null;
    /** Its failure was seen and laid aside. */
    dismissed: Generated<boolean>;
    /** When its worker told last that it lives. */
    reported_at: LaterTimestamp;
    created_at: Timestamp;
    started_at: LaterTimestamp;
    ended_at: LaterTimestamp;
  };
  plans: {
    id: string;
    request_id: string | null;
    operation_id: string;
    version: number;
    origin: Generated<PlanOrigin>;
    /** The plan that this one was made of by hand. */
    parent_id: string | null;
    plan: Document;
    report: Document;
    created_at: Timestamp;
  };
  publications: {
    id: string;
    operation_id: string;
    /** 1 for the first of the operation. */
    number: number;
    plan_id: string;
    note: string;
    by_name: string;
    created_at: Timestamp;
  };
  once_keys: {
    caller: string;
    key: string;
    digest: string;
    thing_id: string;
    created_at: Timestamp;
  };
  audit: {
    id: ColumnType<string, never, never>;
    created_at: Timestamp;
    by_kind: ActorKind;
    by_id: string | null;
    by_name: string;
    action: string;
    operation_id: string | null;
    thing_id: string | null;
    details: Document;
    call_id: string | null;
  };
  work_reports: {
    id: string;
    /** Of the order in which they came in; a bigint, which pg hands over as text. */
    place: ColumnType<string, never, never>;
    operation_id: string;
    plan_id: string;
    crew_id: string;
    date: string;
    block_id: string | null;
    ground: string | null;
    kind: string;
    at: ColumnType<Date, string, never>;
    received_at: Timestamp;
    /** The report as it was sent. */
    data: Document;
    digest: string;
    by_kind: ActorKind;
    by_id: string | null;
    by_name: string;
  };
  application_records: {
    id: string;
    operation_id: string;
    crew_id: string;
    date: string;
    order_id: string;
    block_id: string;
    ground: string;
    created_at: Timestamp;
  };
  application_record_versions: {
    record_id: string;
    version: number;
    facts: Document;
    by_hand: Document;
    reason: string;
    by_name: string;
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
    dismissed: Generated<boolean>;
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
    /** The least is worked first; 0 of what somebody waits for, of batches from 1 on (turns.ts). */
    turn: Generated<number>;
    alone: Generated<boolean>;
    share: Generated<number>;
    result: LaterDocument;
    failure: JSONColumnType<PartFailure> | null;
    dismissed: Generated<boolean>;
    reported_at: LaterTimestamp;
    started_at: LaterTimestamp;
    ended_at: LaterTimestamp;
  };
}
