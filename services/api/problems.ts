import { STATUS_CODES } from "node:http";
import type { z } from "zod";
import type { Fault, Problem } from "../../shared/contracts/problem.ts";
import { valueText } from "../../shared/model/faults.ts";
import { schemaFaults } from "../../shared/model/validate.ts";
import { counted } from "../../shared/plan/words.ts";
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

/** Of what is judged as a whole, with all that is wrong with it. */
export const refuseWhole = (faults: readonly Fault[]): Answer =>
  refuse(422, `${counted(faults.length, "fault", "faults")}; nothing was stored.`, faults);

/** The key of a call that was sent before names another call. */
export const otherCall: Answer = refuse(422, "This Idempotency-Key was used for another call.", []);

/** What was to be changed is no longer as the caller knows it. */
export const changedMeanwhile: Answer = refuse(
  412,
  "This has been changed since you read it, or is there already; read it again first.",
  [],
);

export const unknownThing = (what: string): Answer => refuse(404, `There is no such ${what}.`, []);

export function faultsOf(error: z.ZodError, raw: unknown): Fault[] {
  return schemaFaults(error.issues, raw).map((fault) => shortened({ ...fault, path: [...fault.path] }));
}

/** Members that carry secrets: what was given for them is never told back, since answers are written to logs. */
const secretMembers: ReadonlySet<unknown> = new Set(["password", "current", "link"]);

/** A whole list or object that stands in the wrong place is told by its beginning. */
export function shortened(fault: Fault): Fault {
  const { path, expected } = fault;
  const value = path.some((member) => secretMembers.has(member)) ? null : fault.value;
  const isShort = value === null || typeof value === "number" || typeof value === "boolean";
  return {
    path,
    value: isShort ? value : typeof value === "string" ? value.slice(0, 200) : valueText(value),
    expected,
  };
}

/** What is being made is kept for whoever asks again. */
export const beingMade: Answer = {
  kind: "problem",
  problem: problem(503, "The server has too much to make just now; ask again in a few seconds."),
  retryAfterS: 3,
};

/** The thread that judges plans has too much to do, or is being started again. */
export const askAgain: Answer = {
  kind: "problem",
  problem: problem(503, "Plans cannot be judged just now; ask again in a few seconds."),
  retryAfterS: 3,
};

export const nothingPublished: Answer = refuse(404, "Nothing of this operation has been published.", []);
