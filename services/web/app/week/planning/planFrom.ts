/** Our choice: nobody tells a moment of the day more closely. */
const stepMs = 5 * 60_000;

/** The moment, or the next one that clocks show in whole steps of five minutes. */
export const roundedUp = (at: Date): Date => new Date(Math.ceil(at.getTime() / stepMs) * stepMs);

/**
 * Local time from which to plan again, unless people say otherwise: now. Where now is no day of the plan it is the latest report, or else the plan's beginning or its end. Local times are as
 * 2027-06-14T05:30.
 */
export function planFrom(now: string, dates: readonly string[], latestReport: string | null): string {
  const first = `${dates[0]}T00:00`;
  const last = `${dates.at(-1)}T23:59`;
  const inPlan = (moment: string) => (moment < first ? first : moment > last ? last : moment);
  return inPlan(inPlan(now) === now ? now : (latestReport ?? now));
}

/** `05:30` of what people type for it, as 5:30, 0530 or 5; null: it is no time of day. */
export function clockOf(typed: string): string | null {
  const found = /^(\d{1,2})(?:[:.]?([0-5]\d))?$/.exec(typed.trim());
  if (found === null || Number(found[1]) > 23) return null;
  return `${found[1]!.padStart(2, "0")}:${found[2] ?? "00"}`;
}
