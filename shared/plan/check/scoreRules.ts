import { daysBetween, minutesPerHour } from "../../model/calendar.ts";
import type { Score } from "../plan.ts";
import { changesOf } from "./changes.ts";
import { aircraftAtWork, type Day, type Facts } from "./facts.ts";
import { placeAfter } from "./nights.ts";
import { type Ledger, shown } from "./report.ts";
import { riskOf } from "./risk.ts";
import { stretchesOf, stretchMinutes } from "./stretches.ts";
import type { Terrain } from "./terrain.ts";

/** How far a figure of the plan's score may be off the recomputed one. */
const slack: Record<keyof Score, number> = {
  unservedCents: 1,
  lateCents: 1,
  driveCents: 1,
  labourCents: 1,
  overtimeCents: 1,
  runningCents: 1,
  outfitChangeCents: 1,
  lodgingCents: 1,
  riskCents: 1,
  changeCents: 1,
  totalCents: 1,
  servedHa: 0.001,
  orderedHa: 0.001,
  roadKm: 0.001,
  dutyMin: 0.001,
};

/** The plan's score, part by part, against the plan itself. */
export function checkScore(facts: Facts, ledger: Ledger, terrain: Terrain): void {
  const recomputed = recompute(facts, terrain);
  for (const part of Object.keys(slack) as (keyof Score)[]) {
    const claimed = facts.plan.score[part] ?? 0;
    const isSame = Math.abs(claimed - recomputed[part]) <= slack[part];
    ledger.expect("score", isSame, {}, () => ({
      sentence: `${part} is ${shown(recomputed[part])}, the plan says ${shown(claimed)}`,
      actual: claimed,
      allowed: recomputed[part],
    }));
  }
}

function recompute(facts: Facts, terrain: Terrain): Record<keyof Score, number> {
  const { plan, operation, days, stops } = facts;
  const { costs, planning } = operation.settings;
  const cents = { unserved: 0, late: 0, labour: 0, overtime: 0, running: 0, outfitChange: 0, lodging: 0 };
  let roadKm = 0;
  let dutyMin = 0;

  const worked = new Set(stops.map((stop) => stop.block.id));
  const open = plan.blocks.filter((block) => !worked.has(block.id));
  const withoutBlocks = plan.conflicts.filter((conflict) => !facts.blocksOfOrder.has(conflict.orderId));
  const highestCentsPerHa = operation.orders.reduce((most, order) => Math.max(most, order.priceCentsPerHa), 0);
  for (const { orderId, areaHa } of [...open, ...withoutBlocks])
    cents.unserved += areaHa * valueCentsPerHa(facts, orderId, highestCentsPerHa);
  for (const { work, block, mix } of stops) {
    const { preferredDate } = mix.order;
    if (preferredDate === undefined) continue;
    const daysLate = daysBetween(preferredDate, facts.calendar.dateOfMin(work.endMin - 1));
    cents.late += planning.lateCentsPerHaDay * block.areaHa * Math.max(0, daysLate);
  }
  for (const day of days) {
    const dutyHours = (day.endMin - day.startMin) / minutesPerHour;
    const costCentsPerHour = day.crew?.costCentsPerHour ?? 0;
    const overtimeHours = Math.max(0, dutyHours - (day.crew?.standardHoursPerDay ?? 0));
    cents.labour += dutyHours * costCentsPerHour;
    cents.overtime += overtimeHours * costCentsPerHour * (costs.overtimeFactor - 1);
    for (const activity of day.crewDay.activities) {
      if (activity.kind === "drive") roadKm += activity.distanceKm;
      if (activity.kind === "work") {
        const runningCentsPerHour = aircraftAtWork(day, activity).reduce(
          (sum, { typeId }) => sum + facts.types.get(typeId)!.runningCentsPerHour,
          0,
        );
        cents.running += (stretchMinutes(stretchesOf(activity)) / minutesPerHour) * runningCentsPerHour;
      }
    }
    dutyMin += day.endMin - day.startMin;
    const slept = placeAfter(day.crewDay.activities);
    if (day.crew !== undefined && slept !== undefined && slept !== day.crew.baseId)
      cents.lodging += day.crew.nightAwayCents ?? 0;
  }
  cents.outfitChange = planning.outfitChangeCents * outfitChanges(days);
  const riskCents = Math.round(riskOf(facts));
  const changeCents = Math.round(changesOf(facts, terrain));

  const unservedCents = Math.round(cents.unserved);
  const lateCents = Math.round(cents.late);
  const driveCents = Math.round(roadKm * costs.driveCentsPerKm);
  const labourCents = Math.round(cents.labour);
  const overtimeCents = Math.round(cents.overtime);
  const runningCents = Math.round(cents.running);
  const outfitChangeCents = Math.round(cents.outfitChange);
  const lodgingCents = Math.round(cents.lodging);
  const areaOf = (parts: readonly { areaHa: number }[]) => parts.reduce((sum, { areaHa }) => sum + areaHa, 0);
  return {
    unservedCents,
    lateCents,
    driveCents,
    labourCents,
    overtimeCents,
    runningCents,
    outfitChangeCents,
    lodgingCents,
    riskCents,
    changeCents,
    totalCents:
      unservedCents +
      lateCents +
      driveCents +
      labourCents +
      overtimeCents +
      runningCents +
      outfitChangeCents +
      lodgingCents +
      riskCents +
      changeCents,
    servedHa: areaOf(plan.blocks.filter((block) => worked.has(block.id))),
    orderedHa: areaOf(plan.blocks) + areaOf(withoutBlocks),
    roadKm,
    dutyMin,
  };
}

function valueCentsPerHa({ operation, orders }: Facts, orderId: string, highestCentsPerHa: number): number {
  const { mandatoryFactor, highFactor, lowFactor } = operation.settings.planning;
  const order = orders.get(orderId);
  if (order === undefined) return 0;
  if (order.priority === "mandatory") return highestCentsPerHa * mandatoryFactor;
  return order.priceCentsPerHa * { high: highFactor, normal: 1, low: lowFactor }[order.priority];
}

/** Crew-days whose aircraft or tender are others than on the crew's crew-day before. */
function outfitChanges(days: readonly Day[]): number {
  const sorted = [...days].sort((a, b) => a.startMin - b.startMin);
  return sorted.filter((day, index) => {
    const before = sorted.slice(0, index).findLast((other) => other.crewDay.crewId === day.crewDay.crewId);
    return before !== undefined && outfitKey(before) !== outfitKey(day);
  }).length;
}

function outfitKey({ crewDay: { outfit } }: Day): string {
  return JSON.stringify([outfit.tenderId, [...outfit.aircraftIds].sort()]);
}
