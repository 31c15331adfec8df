import type { ColumnType, Generated, JSONColumnType } from "kysely";
import type { PlanFailure, PlanProgress, PlanStatus } from "../../shared/contracts/planRequests.ts";

/** pg hands timestamps over as Date; they are always set by the database. */
type Timestamp = ColumnType<Date, never, never>;
type LaterTimestamp = ColumnType<Date | null, never, Date | null>;
/** Written as JSON text, read parsed; what it holds is judged by the schemas when it is read. */
type Document = ColumnType<unknown, string, never>;

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
}
