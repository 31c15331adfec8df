import ical, { ICalCalendarMethod, ICalEventTransparency } from "ical-generator";
import { addDays, createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { caution } from "../../shared/plan/caution.ts";
import type { CrewDay, Plan } from "../../shared/plan/plan.ts";
import { indexPlan, type PlanIndex } from "../../shared/plan/planIndex.ts";
import { partWords } from "../../shared/plan/runs.ts";
import { crewDayTotals, worksOf } from "../../shared/plan/totals.ts";
import { counted, hectares, kilometres, methodVerb } from "../../shared/plan/words.ts";

export interface CrewCalendar {
  readonly operation: Operation;
  readonly plan: Pick<Plan, "blocks" | "crewDays">;
  readonly crewId: string;
  /** A name of the operation that lasts, for the ids of events. */
  readonly operationKey: string;
  /** Numbered from 1; becomes the events' sequence, so that a later publication counts. */
  readonly publication: number;
  readonly toldAt: Date;
}

/** How often a calendar is asked to look again, s. */
const lookAgainS = 15 * 60;

/**
 * RFC 5545: an event for every day on which the crew goes out, from leaving to being back, in UTC, which needs no time zone component and
 * which every calendar shows in its reader's own time. The id of an event is the crew's on that date, so that what is told anew takes its place.
 */
export function crewCalendarText(crewCalendar: CrewCalendar): string {
  const { operation, plan, crewId, operationKey, publication, toldAt } = crewCalendar;
  const index = indexPlan(operation, plan);
  const crew = index.crew(crewId);
  const calendar = ical({
    name: `${crew.name}, ${operation.settings.name}`,
    prodId: { company: "Calmhour", product: "crew calendar", language: "EN" },
    method: ICalCalendarMethod.PUBLISH,
    ttl: lookAgainS,
  });
  const days = plan.crewDays.filter((crewDay) => crewDay.crewId === crewId).sort((a, b) => (a.date < b.date ? -1 : 1));
  const idOf = (what: string) => `${operationKey}-${crewId}-${what}@calmhour`;
  const told = { stamp: toldAt, lastModified: toldAt, sequence: publication };
  for (const crewDay of days) {
    const totals = crewDayTotals(crewDay, index.blocks);
    const base = index.base(crew.baseId);
    calendar.createEvent({
      ...told,
      id: idOf(crewDay.date),
      start: instantOf(index, totals.startMin),
      end: instantOf(index, totals.endMin),
      summary: `${crew.name}: ${counted(totals.stops, "stop", "stops")}, ${hectares(totals.areaHa)} ha`,
      location: { title: base.name, geo: { lat: base.latDeg, lon: base.lonDeg } },
      description: dayWords(index, crewDay, publication),
    });
  }
  // RFC 5545, section 3.6: a calendar has a component at least. So the reader sees that nothing is told, too.
  if (days.length === 0) {
    const { dates } = createCalendar(operation.settings);
    calendar.createEvent({
      ...told,
      id: idOf("none"),
      allDay: true,
      start: new Date(`${dates[0]!}T00:00:00Z`),
      end: new Date(`${addDays(dates.at(-1)!, 1)}T00:00:00Z`),
      summary: `${crew.name}: no work published`,
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  }
  return calendar.toString();
}

function instantOf({ calendar }: PlanIndex, min: number): Date {
  return new Date(calendar.epochMsOfMin(min));
}

function dayWords(index: PlanIndex, crewDay: CrewDay, publication: number): string {
  const { calendar } = index;
  const totals = crewDayTotals(crewDay, index.blocks);
  const stops = worksOf(crewDay).map(({ blockId, startMin, endMin, padId }, at) => {
    const block = index.block(blockId);
    const order = index.order(block.orderId);
    const verb = methodVerb[index.productsOf(order)[0]!.method].toLowerCase();
    const field = index.field(order.fieldId).properties;
    return `${at + 1}. ${calendar.clockOfMin(startMin)} to ${calendar.clockOfMin(endMin)} ${verb} ${field.name}${partWords([block])}, pad ${padId}, ${hectares(block.areaHa)} ha`;
  });
  return [
    `Leave by ${calendar.clockOfMin(totals.startMin)}, back ${calendar.clockOfMin(totals.endMin)} (${index.operation.settings.timeZone}), ${kilometres(totals.roadKm)} km`,
    ...stops,
    `Publication ${publication}. The crew sheet has the mixes, limits and neighbours.`,
    caution,
  ].join("\n");
}
