const form = new Intl.DateTimeFormat("en-GB", { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" });

/** `Mon, 14 Jun` of an ISO date, which is a date alone and lies in no time zone. */
export function dayWords(date: string): string {
  return form.format(new Date(`${date}T00:00:00Z`));
}
