import type { Operation } from "../../../../shared/model/operation.ts";

export interface Out {
  readonly aircraftId: string;
  readonly from: string;
  readonly to: string;
}

/** The day that follows so many after, in the calendar alone. */
function dayAfter(date: string, days: number): string {
  const noon = new Date(`${date}T12:00:00Z`);
  noon.setUTCDate(noon.getUTCDate() + days);
  return noon.toISOString().slice(0, 10);
}

/** What is out of service on a day of the plan, by date. */
export function outOfService({ fleet, settings: { days, firstDay } }: Operation): readonly Out[] {
  const lastDay = dayAfter(firstDay, days - 1);
  return fleet.aircraft
    .flatMap(({ id, outOfService: spans }) => spans.map((span) => ({ aircraftId: id, ...span })))
    .filter(({ from, to }) => from <= lastDay && to >= firstDay)
    .sort((a, b) => a.from.localeCompare(b.from));
}
