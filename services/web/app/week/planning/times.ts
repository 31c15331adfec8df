/** Moments in words, without a library: the browser knows time zones. */
import { shortDayWords } from "../../kit/dates.ts";

/** `Tue 15 Jun 05:12` of an instant, on the clocks of the time zone; without one on this machine's. */
export function momentWords(iso: string, timeZone: string | undefined): string {
  const [date, clock] = localDateTime(new Date(iso), timeZone).split("T");
  return `${shortDayWords(date!)} ${clock}`;
}

/** `2027-06-15T05:12` on the clocks of the time zone. */
export function localDateTime(at: Date, timeZone: string | undefined): string {
  // The Swedish way of writing a moment is ISO 8601 with a space.
  const words = at.toLocaleString("sv-SE", {
    ...zoned(timeZone),
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
  });
  return words.replace(" ", "T");
}

const zoned = (timeZone: string | undefined) => (timeZone === undefined ? {} : { timeZone });

export function nextDate(date: string, days = 1): string {
  const at = new Date(`${date}T12:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

/** `8 h 05 min`, `45 min`. */
export function durationWords(minutes: number): string {
  const whole = Math.round(Math.abs(minutes));
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, "0")} min`;
}

/** `12,345 EUR`: what a plan costs is known no better than to the whole unit. */
export function moneyWords(cents: number, currency: string): string {
  return `${Math.round(cents / 100).toLocaleString("en-GB")} ${currency}`;
}
