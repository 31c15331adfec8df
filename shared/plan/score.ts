import { createConfidence } from "../agronomy/confidence.ts";
import { type Calendar, createCalendar, daysBetween } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import { awayAt } from "./nights.ts";
import type { CrewDay, Plan, Score } from "./plan.ts";
import { changesOf } from "./published.ts";
import { type ScorePartName, scorePartNames } from "./scoreParts.ts";
import {
  aircraftAtWork,
  crewDayTotals,
  found,
  groupBy,
  hoursOf,
  indexBy,
  type Stop,
  stopsOf,
  sumOf,
  valuesPerHa,
  workedMin,
  worksOf,
} from "./totals.ts";

/** The objective by parts. Each part is summed unrounded and rounded once to whole cents. */
export function scorePlan(operation: Operation, plan: Pick<Plan, "blocks" | "crewDays" | "published">): Score {
  const calendar = createCalendar(operation.settings);
  const { costs, planning } = operation.settings;
  const orders = indexBy(operation.orders, (order) => order.id);
  const crews = indexBy(operation.fleet.crews, (crew) => crew.id);
  const blocks = indexBy(plan.blocks, (block) => block.id);
  const stops = stopsOf(plan);
  const served = new Set(stops.map((stop) => stop.block.id));
  const unserved = plan.blocks.filter((block) => !served.has(block.id));
  const days = plan.crewDays.map((crewDay) => ({
    crew: found(crews, crewDay.crewId),
    totals: crewDayTotals(crewDay, blocks),
  }));
  const roadKm = sumOf(days, ({ totals }) => totals.roadKm);

  const valueCentsPerHa = valuesPerHa(operation);
  const unservedCents = sumOf(unserved, (block) => block.areaHa * valueCentsPerHa(found(orders, block.orderId)));
  const lateCents = sumOf(
    stops,
    (stop) =>
      planning.lateCentsPerHaDay * stop.block.areaHa * daysLate(calendar, found(orders, stop.block.orderId), stop),
  );
  const driveCents = roadKm * costs.driveCentsPerKm;
  const labourCents = sumOf(days, ({ crew, totals }) => hoursOf(totals.dutyMin) * crew.costCentsPerHour);
  const overtimeCents = sumOf(days, ({ crew, totals }) => {
    const overtimeHours = Math.max(0, hoursOf(totals.dutyMin) - crew.standardHoursPerDay);
    return overtimeHours * crew.costCentsPerHour * (costs.overtimeFactor - 1);
  });
  const runningCents = sumOf(plan.crewDays, (crewDay) => runningCentsOf(operation, crewDay));
  const outfitChangeCents = outfitChanges(plan.crewDays) * planning.outfitChangeCents;
  const lodgingCents = sumOf(plan.crewDays, (crewDay) => {
    const crew = found(crews, crewDay.crewId);
    return awayAt(crew, crewDay) === null ? 0 : (crew.nightAwayCents ?? 0);
  });

  const parts = roundEach({
    unservedCents,
    lateCents,
    driveCents,
    labourCents,
    overtimeCents,
    runningCents,
    outfitChangeCents,
    lodgingCents,
    riskCents: riskCents(operation, calendar, stops),
    changeCents: sumOf(changesOf(planning, plan, stops), ({ cents }) => cents),
  });
  return {
    ...parts,
    totalCents: sumOf(scorePartNames, (part) => parts[part]),
    servedHa: sumOf(
      plan.blocks.filter((block) => served.has(block.id)),
      (block) => block.areaHa,
    ),
    orderedHa: sumOf(plan.blocks, (block) => block.areaHa),
    roadKm,
    dutyMin: sumOf(days, ({ totals }) => totals.dutyMin),
  };
}

/** Whole days from the preferred date to the local date of the work's last minute; none when it is not later. */
function daysLate(calendar: Calendar, order: Operation["orders"][number], stop: Stop): number {
  if (order.preferredDate === undefined) return 0;
  return Math.max(0, daysBetween(order.preferredDate, calendar.dateOfMin(stop.work.endMin - 1)));
}

/** Of the aircraft at work: all of the outfit, or those that a work names. */
function runningCentsOf(operation: Operation, crewDay: CrewDay): number {
  const types = indexBy(operation.fleet.aircraftTypes, (type) => type.id);
  const aircraft = indexBy(operation.fleet.aircraft, (one) => one.id);
  const together = groupBy(worksOf(crewDay), (work) => aircraftAtWork({ crewDay, work }).join(" "));
  return sumOf([...together.values()], (works) => {
    const ids = aircraftAtWork({ crewDay, work: works[0]! });
    const centsPerHour = sumOf(ids, (id) => found(types, found(aircraft, id).typeId).runningCentsPerHour);
    return centsPerHour * hoursOf(sumOf(works, workedMin));
  });
}

/** Crew-days whose aircraft or tender differ from the same crew's previous crew-day. */
function outfitChanges(crewDays: readonly CrewDay[]): number {
  const lastOutfit = new Map<string, string>();
  let changes = 0;
  for (const crewDay of [...crewDays].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))) {
    const outfit = [crewDay.outfit.tenderId, ...[...crewDay.outfit.aircraftIds].sort()].join(" ");
    const before = lastOutfit.get(crewDay.crewId);
    if (before !== undefined && before !== outfit) changes++;
    lastOutfit.set(crewDay.crewId, outfit);
  }
  return changes;
}

/** Hectares worked in hours of which the forecast says little: by how much it is not trusted, on the average of the minutes from a work's first to its last. */
function riskCents({ settings }: Operation, calendar: Calendar, stops: readonly Stop[]): number {
  const { riskCentsPerHa } = settings.planning;
  if (riskCentsPerHa === 0) return 0;
  const confidenceOf = createConfidence(settings, calendar);
  return sumOf(stops, ({ work: { startMin, endMin }, block }) => {
    let doubt = 0;
    for (let min = startMin; min < endMin; min++) doubt += 1 - confidenceOf(min);
    return (riskCentsPerHa * block.areaHa * doubt) / (endMin - startMin);
  });
}

function roundEach(parts: Record<ScorePartName, number>): Record<ScorePartName, number> {
  return Object.fromEntries(scorePartNames.map((part) => [part, Math.round(parts[part])])) as Record<
    ScorePartName,
    number
  >;
}
