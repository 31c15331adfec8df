const form = new Intl.DateTimeFormat("en-GB", { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" });

/** `Mon, 14 Jun` of a date, or of a local time with its clock behind it. */
export function dayWords(local: string): string {
  const [date = "", clock] = local.split("T");
  const day = form.format(new Date(`${date}T00:00:00Z`));
  return clock === undefined ? day : `${day} ${clock.slice(0, 5)}`;
}
