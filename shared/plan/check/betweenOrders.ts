import { daysBetween, minutesPerHour } from "../../model/calendar.ts";
import { type Facts, type Mix, overlap, type Stop } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";

/** The rules between works on the same field. */
export function checkBetweenOrders(facts: Facts, ledger: Ledger): void {
  const stopsOfField = new Map<string, Stop[]>();
  for (const stop of facts.stops) {
    const { id } = stop.mix.field.properties;
    stopsOfField.set(id, [...(stopsOfField.get(id) ?? []), stop]);
  }
  for (const [fieldId, stops] of stopsOfField) {
    checkAirspace(ledger, fieldId, stops);
    const mixes = [...new Set(stops.map((stop) => stop.mix))];
    for (const [index, a] of mixes.entries()) {
      for (const b of mixes.slice(index + 1)) checkPair(facts, ledger, a, b, stops);
    }
  }
}

function checkAirspace(ledger: Ledger, fieldId: string, stops: readonly Stop[]): void {
  for (const [index, a] of stops.entries()) {
    for (const b of stops.slice(index + 1)) {
      if (a.day.crewDay.crewId === b.day.crewDay.crewId) continue;
      const isTogether = overlap(a.work.startMin, a.work.endMin, b.work.startMin, b.work.endMin);
      ledger.expect("airspace", !isTogether, b.subject, () => ({
        sentence: `crews ${a.day.crewDay.crewId} and ${b.day.crewDay.crewId} work on field ${fieldId} at the same time`,
        actual: a.block.id,
        allowed: "one crew at a time",
      }));
    }
  }
}

interface Extent {
  readonly mix: Mix;
  readonly fromMin: number;
  readonly toMin: number;
}

function extentOf(mix: Mix, stops: readonly Stop[]): Extent {
  const works = stops.filter((stop) => stop.mix === mix).map((stop) => stop.work);
  return {
    mix,
    fromMin: Math.min(...works.map((work) => work.startMin)),
    toMin: Math.max(...works.map((work) => work.endMin)),
  };
}

/** Hours that either of two orders wants between them. */
function apartHours(a: Mix, b: Mix): number {
  const wanted = (from: Mix, to: Mix) =>
    from.order.apartFrom.filter(({ orderId }) => orderId === to.order.id).map(({ hours }) => hours);
  return Math.max(0, ...wanted(a, b), ...wanted(b, a));
}

function checkPair(facts: Facts, ledger: Ledger, a: Mix, b: Mix, stops: readonly Stop[]): void {
  const { calendar } = facts;
  const common = a.products.filter((product) => b.products.includes(product));
  const neededHours = apartHours(a, b);
  if (common.length === 0 && neededHours === 0) return;
  const pair = [extentOf(a, stops), extentOf(b, stops)].sort((one, other) => one.fromMin - other.fromMin);
  const [earlier, later] = pair as [Extent, Extent];
  const ids = `${earlier.mix.order.id} and ${later.mix.order.id}`;
  const subject = { orderId: later.mix.order.id };
  ledger.expect("interleave", earlier.toMin <= later.fromMin, subject, () => ({
    sentence: `orders ${ids} must follow each other on field ${a.field.properties.id}, their work interleaves`,
    actual: calendar.isoOfMin(later.fromMin),
    allowed: calendar.isoOfMin(earlier.toMin),
  }));
  if (neededHours > 0) {
    const hours = (later.fromMin - earlier.toMin) / minutesPerHour;
    ledger.expect("wait", hours >= neededHours - rounding, subject, () => ({
      sentence: `${shown(hours)} h lie between orders ${ids}, ${shown(neededHours)} h are needed`,
      actual: hours,
      allowed: neededHours,
    }));
  }
  if (common.length === 0) return;
  const neededDays = Math.max(0, ...common.map((product) => a.uses[a.products.indexOf(product)]?.retreatmentDays ?? 0));
  const days = daysBetween(calendar.dateOfMin(earlier.toMin - 1), calendar.dateOfMin(later.fromMin));
  ledger.expect("retreatment", days >= neededDays, subject, () => ({
    sentence: `order ${later.mix.order.id} follows ${earlier.mix.order.id} after ${days} days, ${neededDays} days are needed between them`,
    actual: days,
    allowed: neededDays,
  }));
}
