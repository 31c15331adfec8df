import { STATUS_CODES } from "node:http";
import type { z } from "zod";
import type { Fault, Problem } from "../../shared/contracts/problem.ts";
import { valueAt, valueText } from "../../shared/model/faults.ts";
import type { Answer } from "./route.ts";

/** about:blank says that the status tells it all: RFC 9457, section 4.2.1. */
export function problem(status: number, detail: string, faults: readonly Fault[] = []): Problem {
  return {
    type: "about:blank",
    title: STATUS_CODES[status] ?? "Error",
    status,
    detail,
    ...(faults.length > 0 ? { faults: [...faults] } : {}),
  };
}

export function refuse(status: number, detail: string, faults: readonly Fault[]): Answer {
  return { kind: "problem", problem: problem(status, detail, faults) };
}

export const unknownThing = (what: string): Answer => refuse(404, `There is no such ${what}.`, []);

export function faultsOf(error: z.ZodError, raw: unknown): Fault[] {
  return error.issues.map((issue) => {
    const path = issue.path.map((step) => (typeof step === "number" ? step : String(step)));
    return shortened({ path, value: valueAt(raw, path), expected: issue.message });
  });
}

/** A whole list or object that stands in the wrong place is told by its beginning. */
export function shortened(fault: Fault): Fault {
  const { path, value, expected } = fault;
  const isShort = value === null || typeof value === "number" || typeof value === "boolean";
  return {
    path,
    value: isShort ? value : typeof value === "string" ? value.slice(0, 200) : valueText(value),
    expected,
  };
}
