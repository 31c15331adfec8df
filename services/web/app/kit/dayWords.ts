const parts = { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" } as const;
const form = new Intl.DateTimeFormat("en-GB", parts);
const formWithYear = new Intl.DateTimeFormat("en-GB", { ...parts, year: "numeric" });

function words(local: string, { format }: Pick<Intl.DateTimeFormat, "format">): string {
  const [date = "", clock] = local.split("T");
  const day = new Date(`${date}T00:00:00Z`);
  // What somebody else has mistyped stays readable.
  if (Number.isNaN(day.getTime())) return local;
  return clock === undefined ? format(day) : `${format(day)} ${clock.slice(0, 5)}`;
}

/** `Mon, 14 Jun` of a date, or of a local time with its clock behind it: where the year is plain. */
export const dayWords = (local: string): string => words(local, form);

/** `Mon, 14 Jun 2027`, likewise. */
export const dayWordsWithYear = (local: string): string => words(local, formWithYear);
