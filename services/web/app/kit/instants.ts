import { shortDayWordsWithYear } from "./dates.ts";

const forms = new Map<string, Intl.DateTimeFormat>();

function formOf(timeZone: string | undefined, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${timeZone} ${JSON.stringify(options)}`;
  let form = forms.get(key);
  if (form === undefined) {
    form = new Intl.DateTimeFormat("en-GB", { ...options, ...(timeZone === undefined ? {} : { timeZone }) });
    forms.set(key, form);
  }
  return form;
}

/** An instant as people read it: Mon 14 Jun 2027 05:30. Left out, the time zone is that of the device. */
export const instantWords = (iso: string, timeZone?: string): string =>
  shortDayWordsWithYear(localOfInstant(iso, timeZone));

/** What a field for local date and time holds: 2027-06-14T05:30, on the clocks of the time zone. */
export function localOfInstant(iso: string, timeZone?: string): string {
  const parts = formOf(timeZone, {
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).formatToParts(new Date(iso));
  const part = (type: string) => parts.find((one) => one.type === type)!.value;
  return `${part("year")}-${part("month")}-${part("day")}T${part("hour")}:${part("minute")}`;
}

/** The instant at which clocks of the time zone show it: of a time that they show twice the first, of one that they skip the one as long after the jump. */
export function instantOfLocal(local: string, timeZone: string): string {
  const asUtcMs = Date.parse(`${local}Z`);
  const offsetMsAt = (ms: number) => Date.parse(`${localOfInstant(new Date(ms).toISOString(), timeZone)}Z`) - ms;
  // Offsets before and after any change of clocks near by.
  const dayMs = 86_400_000;
  const before = asUtcMs - offsetMsAt(asUtcMs - dayMs);
  const after = asUtcMs - offsetMsAt(asUtcMs + dayMs);
  const shown = (ms: number) => localOfInstant(new Date(ms).toISOString(), timeZone) === local.slice(0, 16);
  return new Date(shown(before) || !shown(after) ? before : after).toISOString();
}
