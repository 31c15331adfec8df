import type { LocalTime } from "../../../../shared/plan/localTime.ts";
import { dayWords } from "../kit/dates.ts";

/** The clock of a plan's minute; on another day than the one that is read with its weekday. */
export function clockOn(time: Pick<LocalTime, "clock" | "date">, date: string): string {
  return time.date === date ? time.clock : `${dayWords(time.date).slice(0, 3)} ${time.clock}`;
}

/** The clock of an instant where the operation is. */
export function clockAt(instant: string | number, timeZone: string): string {
  return new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone }).format(new Date(instant));
}

/** The local date of an instant where the operation is, as 2027-06-14 (which is how Sweden writes dates). */
export const dateAt = (instantMs: number, timeZone: string): string =>
  new Intl.DateTimeFormat("sv-SE", { timeZone }).format(instantMs);
