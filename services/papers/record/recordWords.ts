import type { Recorded } from "../../../shared/done/recorded.ts";

/** An instant as clocks show it in the zone: `2027-06-14 07:10`. Swedish dates are written as in ISO 8601. */
export function localWords(instant: string | null, timeZone: string): string {
  if (instant === null) return "";
  return new Intl.DateTimeFormat("sv-SE", { timeZone, dateStyle: "short", timeStyle: "short" }).format(
    new Date(instant),
  );
}

export function applicatorWords({ applicators }: Pick<Recorded, "applicators">): string {
  return applicators
    .map(({ name, certificationNumber }) => (certificationNumber === null ? name : `${name}, ${certificationNumber}`))
    .join("; ");
}

export function aircraftWords({ aircraft }: Pick<Recorded, "aircraft">): string {
  return aircraft.map(({ id, type }) => `${type} (${id})`).join("; ");
}
