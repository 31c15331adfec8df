import { caseSetDocumentSchema } from "../../shared/cases/caseSet.ts";
import { casePartSchema, casesAskSchema, fileAsAsked, lostRuns } from "../../shared/cases/casesStudy.ts";
import { compareRuns } from "../../shared/cases/compareRuns.ts";
import { runOutcomeSchema } from "../../shared/cases/runResult.ts";
import type { StudyKind } from "../../shared/contracts/studies.ts";
import type { Conclude } from "./partWorker.ts";

/** A study of one part comes to what its part comes to. */
const asTheOnlyPart: Conclude = (_input, [part]) =>
  part!.status === "done"
    ? { status: "done", result: part!.result }
    : { status: "failed", failure: { kind: "partFailed", message: part!.failure.message, part: 0 } };

const kinds: Readonly<Record<StudyKind, Conclude>> = {
  /** A run that was lost is told in the comparison. */
  cases: ({ operation, cases, ask }, parts) => {
    const asked = casesAskSchema.parse(ask);
    const file = fileAsAsked(caseSetDocumentSchema.parse(cases).cases, asked);
    const outcomes = parts.flatMap((part) =>
      part.status === "done"
        ? runOutcomeSchema.array().parse(part.result)
        : lostRuns(casePartSchema.parse(part.ask), asked, part.failure.message),
    );
    return { status: "done", result: compareRuns(operation, file, outcomes) };
  },
  remedies: asTheOnlyPart,
  bottlenecks: asTheOnlyPart,
};

export const concludeStudy: Conclude = (input, parts) => kinds[input.kind](input, parts);
