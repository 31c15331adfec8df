import { recordedHa } from "./rounded.ts";
import type { KeptReport } from "./workReport.ts";

export interface CrewDayOf {
  readonly crewId: string;
  readonly date: string;
}

/** What one crew did of a block on one day. */
export interface Treated {
  readonly state: "finished" | "stopped";
  readonly areaHa: number;
  /** Another crew-day had told the end of the same ground before: it may have been treated twice. */
  readonly again: boolean;
  readonly startedAt: string | null;
  readonly endedAt: string;
}

/**
 * Reports tell the hectares of a block that are done in all; a crew-day's own are what they grow by in its reports. `about`: all standing reports on the block, in order of time. Null where the
 * crew-day has told no end.
 */
export function treatedOf(about: readonly KeptReport[], day: CrewDayOf): Treated | null {
  const isOwn = (one: CrewDayOf) => one.crewId === day.crewId && one.date === day.date;
  const own = about.filter(isOwn).map(({ report }) => report);
  const ends = own.filter((report) => report.kind === "stopped" || report.kind === "finished");
  const last = ends.at(-1);
  if (last === undefined) return null;
  const first = own.find(({ kind }) => kind === "started" || kind === "loadDone" || kind === "goesOn");
  return {
    state: ends.some(({ kind }) => kind === "finished") ? "finished" : "stopped",
    ...ownHa(about, isOwn),
    startedAt: first?.at ?? null,
    endedAt: last.at,
  };
}

function ownHa(about: readonly KeptReport[], isOwn: (one: CrewDayOf) => boolean): Pick<Treated, "areaHa" | "again"> {
  let inAllHa = 0;
  let sumHa = 0;
  let endedByOthers = false;
  let again = false;
  for (const one of about) {
    const { report } = one;
    if (report.kind !== "stopped" && report.kind !== "finished") continue;
    if (!isOwn(one)) {
      endedByOthers ||= report.kind === "finished";
    } else if (endedByOthers) {
      // All of it is recorded: rather twice in the records than once on the ground and not recorded.
      again = true;
      sumHa = report.doneHa;
    } else sumHa += report.doneHa - inAllHa;
    inAllHa = report.doneHa;
  }
  return { areaHa: recordedHa(Math.max(0, sumHa)), again };
}
