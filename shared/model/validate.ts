import type { z } from "zod";
import { consistencyFaults } from "./consistency.ts";
import { crossReferenceFaults } from "./crossReferences.ts";
import { type DefaultUsed, defaultsUsed } from "./defaultsUsed.ts";
import { type Fault, type Path, valueAt } from "./faults.ts";
import { coordinateSystemFaults, geometryFaults } from "./geometryFaults.ts";
import { hazardFaults } from "./hazardFaults.ts";
import { issueWords } from "./issueWords.ts";
import { lockFaults } from "./lockFaults.ts";
import { type Operation, operationSchema } from "./operation.ts";
import { readParts } from "./parts.ts";
import { placeFaults } from "./placeFaults.ts";
import { timeFaults } from "./timeFaults.ts";

export type { DefaultUsed, Fault };

export type Validation =
  | { ok: true; operation: Operation; defaultsUsed: DefaultUsed[] }
  | { ok: false; faults: Fault[] };

/** What breaks two limits in the same words, as a huge number breaks those of a whole one and of its own, is one fault. */
export function schemaFaults(issues: readonly z.core.$ZodIssue[], raw: unknown): Fault[] {
  const faults = issues.flatMap((issue) => {
    const path = issue.path as Path;
    const paths = issue.code === "unrecognized_keys" ? issue.keys.map((key) => [...path, key]) : [path];
    return paths.map((at) => ({ path: at, value: valueAt(raw, at), expected: issue.message }));
  });
  const wordsOf = ({ path, expected }: Fault) => JSON.stringify([path, expected]);
  return [...new Map(faults.map((fault) => [wordsOf(fault), fault])).values()];
}

/**
 * Judges a whole operation and lists everything that is wrong with it at once. What contradicts each other is looked
 * for among all parts that can be read, whatever else is wrong.
 */
export function validateOperation(raw: unknown): Validation {
  const parsed = operationSchema.safeParse(raw, { error: issueWords });
  const parts = readParts(raw);
  const groundFaults = geometryFaults(parts);
  const farFaults = placeFaults(parts, groundFaults);
  const faults = [
    ...(parsed.success ? [] : schemaFaults(parsed.error.issues, raw)),
    ...crossReferenceFaults(parts),
    ...consistencyFaults(parts),
    ...timeFaults(parts),
    ...lockFaults(parts),
    ...coordinateSystemFaults(raw),
    ...groundFaults,
    ...farFaults,
    ...hazardFaults(parts, [...groundFaults, ...farFaults]),
  ];
  if (!parsed.success || faults.length > 0) return { ok: false, faults };
  return { ok: true, operation: parsed.data, defaultsUsed: defaultsUsed(raw, parsed.data) };
}
