import type { Operation } from "../model/operation.ts";
import { applyChanges } from "./applyChanges.ts";
import { baseCaseId, type CasesFile } from "./cases.ts";
import type { Change } from "./change.ts";
import { changesWords } from "./changeWords.ts";
import { curvePoints } from "./curveCases.ts";

/** A case as it is planned. */
export interface PlannedCase {
  readonly id: string;
  readonly name: string;
  readonly changes: readonly Change[];
}

/** The base first, then the cases of the file, then what the curve needs beside the base. */
export function plannedCases(operation: Operation, { cases, curve }: CasesFile): PlannedCase[] {
  const points = curve === undefined ? [] : curvePoints(operation, curve);
  return [
    { id: baseCaseId, name: "As it is", changes: [] },
    ...cases,
    ...points
      .filter(({ changes }) => changes.length > 0)
      .map(({ id, changes }) => ({ id, name: changesWords(operation, changes), changes })),
  ];
}

/** The operation of a case. That its changes can be made was seen to when the file was read. */
export function operationOf(operation: Operation, { id, changes }: PlannedCase): Operation {
  if (changes.length === 0) return operation;
  const outcome = applyChanges(operation, changes);
  if (!outcome.ok) throw new Error(`the changes of case ${id} cannot be made`);
  return outcome.operation;
}
