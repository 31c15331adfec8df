import { addDays } from "../../../../shared/model/days.ts";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { readable } from "../../../../shared/plan/words.ts";
import { shortDayWords } from "../kit/dates.ts";
import { instantOfLocal } from "../kit/instants.ts";
import { crewWords as words } from "../strings/crew.ts";
import { clockAt, dateAt } from "./clockWords.ts";
import type { StopStand } from "./stands.ts";

type Intervals = Pick<SheetStop, "reentryHours" | "phiDays" | "harvestFrom"> & {
  readonly reentryFrom: Pick<SheetStop["reentryFrom"], "clock" | "date">;
};

/**
 * When people may enter and harvest may begin, in words. Both run from the end of the work: what was reported of it counts;
 * before that only the interval is sure, and the time is told as one that holds if the work ends as planned.
 */
export function intervalsAfter(
  { harvestFrom, phiDays, reentryFrom, reentryHours }: Intervals,
  { endedAt, state }: Pick<StopStand, "endedAt" | "state">,
  timeZone: string,
): { readonly reentry: string; readonly harvest: string } {
  const hours = reentryHours > 0 ? `${readable(reentryHours)} h` : null;
  const harvestAfter = words.afterEnd(phiDays > 0 ? words.intervalDays(phiDays) : null, words.dayOfWork);
  if (state !== "finished" || endedAt === null) {
    return {
      reentry: words.ifAsPlanned(
        words.afterEnd(hours, words.endOfWork),
        `${shortDayWords(reentryFrom.date)} ${reentryFrom.clock}`,
      ),
      harvest: words.ifAsPlanned(harvestAfter, shortDayWords(harvestFrom)),
    };
  }
  const endMs = Date.parse(endedAt);
  // Up to the full minute, so that nobody reads a time before the interval has passed.
  const entryMs = Math.ceil((endMs + reentryHours * 3_600_000) / 60_000) * 60_000;
  const harvestDate = dateOnOrAfter(
    Math.max(entryMs, midnightMs(addDays(dateAt(endMs - 1, timeZone), phiDays), timeZone)),
    timeZone,
  );
  return {
    reentry: words.asReported(
      `${shortDayWords(dateAt(entryMs, timeZone))} ${clockAt(entryMs, timeZone)}`,
      words.afterEnd(hours, words.reportedEnd),
    ),
    harvest: words.asReported(shortDayWords(harvestDate), harvestAfter),
  };
}

const midnightMs = (date: string, timeZone: string) => Date.parse(instantOfLocal(`${date}T00:00`, timeZone));

/** The first date that begins at the instant or after it. */
function dateOnOrAfter(instantMs: number, timeZone: string): string {
  const date = dateAt(instantMs, timeZone);
  return midnightMs(date, timeZone) >= instantMs ? date : addDays(date, 1);
}
