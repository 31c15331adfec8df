import type { ApplicationRecord } from "../../shared/contracts/applicationRecords.ts";
import { missingIn, originsOf } from "../../shared/done/completeness.ts";
import { findingsOf } from "../../shared/done/findings.ts";
import { recordedOf } from "../../shared/done/recorded.ts";
import type { KeptRecord } from "../store/applicationRecords.ts";

/** A kept version as it is told. */
export function toldRecord(kept: KeptRecord): ApplicationRecord {
  const { id, operationId, version, createdAt, byName, reason, byHand } = kept;
  const record = recordedOf(kept.facts, byHand);
  const missing = missingIn(record);
  return {
    ...{ id, operationId, version, createdAt, byName, reason },
    record,
    byHand,
    complete: missing.length === 0,
    missing,
    findings: findingsOf(record),
    origins: originsOf(record, byHand),
  };
}
