import type { StudySummary } from "../../../../shared/contracts/studies.ts";
import { studyWords as words } from "../strings/studies.ts";

/** What was asked for, in short. */
export function askWords({ ask, kind }: Pick<StudySummary, "ask" | "kind">): string[] {
  if (kind !== "cases") return [];
  const { seeds, weeks } = ask;
  return [
    typeof weeks === "number" ? words.sampledWeeks(weeks) : words.week,
    ...(typeof seeds === "number" ? [words.seedsOf(seeds)] : []),
  ];
}

/** Neither done nor failed nor cancelled. */
export const isGoingOn = (status: StudySummary["status"]): boolean => status === "queued" || status === "running";
