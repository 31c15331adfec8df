import type { OperationSummary } from "../../shared/contracts/operations.ts";
import { digestOf } from "../store/digest.ts";
import type { Precondition } from "./route.ts";

/** Half of SHA-256 is enough to tell things apart. */
const digits = 32;

/** Of a thing by what it holds: it changes when the thing does, whatever else does. */
export const etagOf = (thing: unknown): string => digestOf(thing).slice(0, digits);

export const versionEtag = ({ version, digest }: Pick<OperationSummary, "version" | "digest">): string =>
  `${version}-${digest.slice(0, digits)}`;

/** RFC 9110, section 13.1.2: whether what the caller has already is this. */
export function namesIt(ifNoneMatch: string | undefined, etag: string): boolean {
  return (
    ifNoneMatch === "*" || (ifNoneMatch ?? "").split(",").some((one) => one.trim().replace(/^W\//, "") === `"${etag}"`)
  );
}

/** Whether the thing is as the caller knows it; null: there is none. */
export function isAsKnown(precondition: Precondition, etag: string | null): boolean {
  return precondition.kind === "ifNew" ? etag === null : etag !== null && precondition.etags.includes(etag);
}
