import type { KeptReport } from "./workReport.ts";

export interface Standing {
  /** Those that hold, each once, in order of the phones' time, of equal times by id. */
  readonly reports: readonly KeptReport[];
  /** Corrections, in the same order, with the report that each names, if it is there. */
  readonly corrections: readonly { readonly correction: KeptReport; readonly named: KeptReport | null }[];
}

/** A report's time in ms since 1970. */
export const atMs = ({ report }: KeptReport): number => Date.parse(report.at);

function inOrder(a: KeptReport, b: KeptReport): number {
  return atMs(a) - atMs(b) || (a.report.id < b.report.id ? -1 : a.report.id > b.report.id ? 1 : 0);
}

/** A crew withdraws its own reports only, and no correction withdraws a correction; so the order in which corrections are read means nothing. */
export function withdraws(correction: KeptReport, named: KeptReport): boolean {
  return named.report.kind !== "correction" && named.crewId === correction.crewId;
}

/** What is left when corrections have been made. Depends on the set of reports only: not on their order, nor on how often one is there. */
export function standing(kept: readonly KeptReport[]): Standing {
  const ordered = [...new Map([...kept].sort(inOrder).map((one) => [one.report.id, one])).values()].sort(inOrder);
  const byId = new Map(ordered.map((one) => [one.report.id, one]));
  const corrections = ordered.flatMap((correction) =>
    correction.report.kind === "correction"
      ? [{ correction, named: byId.get(correction.report.withdraws) ?? null }]
      : [],
  );
  const withdrawn = new Set(
    corrections.flatMap(({ correction, named }) => (named && withdraws(correction, named) ? [named.report.id] : [])),
  );
  const reports = ordered.filter(({ report }) => report.kind !== "correction" && !withdrawn.has(report.id));
  return { reports, corrections };
}
