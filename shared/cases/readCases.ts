import type { z } from "zod";
import type { Fault } from "../model/faults.ts";
import { issueWords } from "../model/issueWords.ts";
import { knownWords } from "../model/misspelling.ts";
import type { Operation } from "../model/operation.ts";
import { schemaFaults } from "../model/validate.ts";
import { applyChanges } from "./applyChanges.ts";
import { baseCaseId, type CasesFile, type Curve, caseSchema, casesFileSchema, curveSchema } from "./cases.ts";
import { curvePoints } from "./curveCases.ts";

export type CasesOutcome =
  | { readonly ok: true; readonly file: CasesFile }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Judges a cases file for an operation and lists all that is wrong with it at once; the changes of every case that can be read are tried, whatever else is wrong. */
export function readCases(raw: unknown, operation: Operation): CasesOutcome {
  const parsed = casesFileSchema.safeParse(raw, { error: issueWords });
  const faults = [
    ...(parsed.success ? [] : schemaFaults(parsed.error.issues, raw)),
    ...idFaults(raw),
    ...caseFaults(raw, operation),
    ...curveFaults(raw, operation),
  ];
  if (parsed.success && parsed.data.cases.length === 0 && parsed.data.curve === undefined)
    faults.push({ path: ["cases"], value: parsed.data.cases, expected: "at least one case, or a curve" });
  return parsed.success && faults.length === 0 ? { ok: true, file: parsed.data } : { ok: false, faults };
}

function rawCases(raw: unknown): unknown[] {
  const cases = (raw as { cases?: unknown } | null)?.cases;
  return Array.isArray(cases) ? cases : [];
}

function idFaults(raw: unknown): Fault[] {
  const ids = rawCases(raw).map((one) => (one as { id?: unknown } | null)?.id);
  return ids.flatMap((id, at): Fault[] => {
    const path = ["cases", at, "id"];
    if (typeof id !== "string") return [];
    if (id === baseCaseId || id.startsWith("curve-"))
      return [
        {
          path,
          value: id,
          expected: `another id: ${baseCaseId} is the operation as it is, curve-... are points of the curve`,
        },
      ];
    return ids.indexOf(id) < at ? [{ path, value: id, expected: "an id that no other case has" }] : [];
  });
}

function caseFaults(raw: unknown, operation: Operation): Fault[] {
  return rawCases(raw).flatMap((one, at) => {
    const parsed = read(caseSchema.shape.changes, (one as { changes?: unknown } | null)?.changes);
    return parsed === undefined ? [] : changeFaults(operation, parsed, ["cases", at]);
  });
}

function changeFaults(operation: Operation, changes: Parameters<typeof applyChanges>[1], path: Fault["path"]): Fault[] {
  const outcome = applyChanges(operation, changes);
  return outcome.ok ? [] : outcome.faults.map((fault) => ({ ...fault, path: [...path, ...fault.path] }));
}

/** What cannot be done over sampled weeks, which have weather of their own. */
export function seasonCaseFaults({ cases }: CasesFile): Fault[] {
  return cases.flatMap(({ changes }, at) =>
    changes.flatMap(({ kind }, index): Fault[] =>
      kind === "replaceWeather"
        ? [
            {
              path: ["cases", at, "changes", index, "kind"],
              value: kind,
              expected: "over sampled weeks changeWeather: their weather is drawn from the history",
            },
          ]
        : [],
    ),
  );
}

/** What the curve names, then whether its ends can be made: what lies between them can be made then. */
function curveFaults(raw: unknown, operation: Operation): Fault[] {
  const curve = read(curveSchema, (raw as { curve?: unknown } | null)?.curve);
  if (curve === undefined) return [];
  const named = namesOf(curve, operation).flatMap(([name, id, known]): Fault[] =>
    id === undefined || known.includes(id)
      ? []
      : [{ path: ["curve", name], value: id, expected: knownWords([id], known) }],
  );
  if (named.length > 0) return named;
  const points = curvePoints(operation, curve);
  return [points[0]!, points.at(-1)!].flatMap(({ changes }) => changeFaults(operation, changes, ["curve"]));
}

type NamedIds = [name: string, id: string | undefined, known: readonly string[]];

function namesOf({ typeId, baseId, crewLike, tenderLike }: Curve, { fleet, settings }: Operation): NamedIds[] {
  const ids = (things: readonly { readonly id: string }[]) => things.map(({ id }) => id);
  return [
    ["typeId", typeId, ids(fleet.aircraftTypes)],
    ["baseId", baseId, ids(settings.bases)],
    ["crewLike", crewLike, ids(fleet.crews)],
    ["tenderLike", tenderLike, ids(fleet.tenders)],
  ];
}

function read<Schema extends z.ZodType>(schema: Schema, raw: unknown): z.output<Schema> | undefined {
  const parsed = schema.safeParse(raw);
  return parsed.success ? parsed.data : undefined;
}
