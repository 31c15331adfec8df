/** Of dates and hours what needs no time zone: without the library that knows those, so that screens that only tell dates do not load it. */
export const minutesPerHour = 60;
const msPerDay = 24 * 60 * 60 * 1000;

/** Add whole days to an ISO date. Bare dates are read as UTC (ECMAScript, Date.parse), which has no days of other lengths. */
export function addDays(date: string, days: number): string {
  return new Date(Date.parse(date) + days * msPerDay).toISOString().slice(0, date.length);
}

/** Whole days from one ISO date to another. */
export function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / msPerDay;
}
