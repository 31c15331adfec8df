import type { ColumnType, Generated } from "kysely";
import type { Role } from "../../shared/contracts/access.ts";

type Timestamp = ColumnType<Date, never, never>;
type GivenTimestamp = ColumnType<Date, Date, Date>;
type LaterTimestamp = ColumnType<Date | null, never, Date | null>;

export interface PeopleTables {
  people: {
    id: string;
    /** Unique whatever letters are capitals. */
    name: string;
    shown_name: string;
    /** Hash, in the text form of argon2. */
    password: string | null;
    roles: Role[];
    active: Generated<boolean>;
    version: Generated<number>;
    created_at: Timestamp;
  };
  person_crews: {
    person_id: string;
    operation_id: string;
    crew_id: string;
  };
  sessions: {
    /** Of what the cookie carries. */
    hash: string;
    /** Exactly one of the two is there. */
    person_id: string | null;
    crew_link_id: string | null;
    created_at: Timestamp;
    last_seen_at: ColumnType<Date, never, Date>;
    expires_at: GivenTimestamp;
  };
  tokens: {
    id: string;
    hash: string;
    person_id: string;
    name: string;
    roles: Role[];
    read_only: boolean;
    created_at: Timestamp;
    expires_at: GivenTimestamp;
    revoked_at: LaterTimestamp;
    last_used_at: LaterTimestamp;
  };
  crew_links: {
    id: string;
    operation_id: string;
    crew_id: string;
    note: string;
    by_name: string;
    created_at: Timestamp;
    expires_at: GivenTimestamp;
    revoked_at: LaterTimestamp;
  };
  /** Gone when used. */
  one_time_links: {
    hash: string;
    /** Null: makes the first person. */
    person_id: string | null;
    expires_at: GivenTimestamp;
  };
  sign_in_attempts: {
    /** A hash: somebody may have typed a password for a name. */
    key: string;
    attempt_id: string;
    at: Timestamp;
  };
}
