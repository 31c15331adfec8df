import type { SunCourse } from "../../agronomy/sun.ts";
import { addDays, daysBetween, minutesPerHour } from "../../model/calendar.ts";
import type { Facts, Stop } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";
import type { Sky } from "./sky.ts";
import { firstUncovered, partIn, type Span, shareMinute } from "./spans.ts";

/** The limits of a minute that follow from dates, sun and the field's calendar. */
export function checkCalendarLimits(facts: Facts, ledger: Ledger, sky: Sky): void {
  for (const stop of facts.stops) {
    const span = { fromMin: stop.work.startMin, toMin: stop.work.endMin };
    checkDates(facts, ledger, stop, span);
    checkDaylight(facts, ledger, sky, stop, span);
    checkClosures(facts, ledger, stop, span);
    checkEntries(facts, ledger, stop, span);
    checkHarvest(facts, ledger, stop, span);
    checkPastApplications(facts, ledger, stop, span);
    checkBloom(facts, ledger, sky, stop, span);
  }
}

function checkDates({ calendar }: Facts, ledger: Ledger, { mix, subject }: Stop, span: Span): void {
  const { earliest, latest } = mix.order;
  const isInside = calendar.minOfLocal(earliest) <= span.fromMin && span.toMin <= calendar.minOfLocal(latest);
  ledger.expect("dates", isInside, subject, () => ({
    sentence: `order ${mix.order.id} is worked ${calendar.isoOfMin(span.fromMin)} to ${calendar.isoOfMin(span.toMin)}, it allows ${earliest} to ${latest}`,
    actual: calendar.isoOfMin(span.fromMin),
    allowed: `${earliest} to ${latest}`,
  }));
}

/** Local dates that the span touches, with one more before and after. */
function datesAround({ calendar }: Facts, span: Span): string[] {
  const dates = [addDays(calendar.dateOfMin(span.fromMin), -1)];
  const last = addDays(calendar.dateOfMin(span.toMin), 1);
  while (dates.at(-1)! < last) dates.push(addDays(dates.at(-1)!, 1));
  return dates;
}

function dayOf({ calendar }: Facts, date: string): Span {
  return { fromMin: calendar.minOfDate(date), toMin: calendar.minOfDate(addDays(date, 1)) };
}

/** From a rise to a set of the sun, each moved by some minutes; the whole day when it never sets, none when it never rises. */
function sunlit(day: Span, up: SunCourse, upOffsetMin: number, down: SunCourse, downOffsetMin: number): Span[] {
  if (up.kind === "below" || down.kind === "below") return [];
  return [
    {
      fromMin: up.kind === "above" ? day.fromMin : up.upMin + upOffsetMin,
      toMin: down.kind === "above" ? day.toMin : down.downMin + downOffsetMin,
    },
  ];
}

function checkDaylight(facts: Facts, ledger: Ledger, sky: Sky, stop: Stop, span: Span): void {
  const { day, mix, subject } = stop;
  const { flyingDay } = facts.operation.settings.limits;
  const mayWorkAtNight = day.crew?.nightWork === true && day.types.every((type) => type.nightCapable);
  const flyingDays = datesAround(facts, span).flatMap((date) => {
    const { horizon, civil } = sky.sun(mix, date);
    const up = flyingDay.from === "sunrise" ? horizon : civil;
    const down = flyingDay.to === "sunset" ? horizon : civil;
    return sunlit(dayOf(facts, date), up, flyingDay.fromOffsetMin, down, flyingDay.toOffsetMin);
  });
  const darkMin = firstUncovered(span, flyingDays);
  ledger.expect("daylight", mayWorkAtNight || darkMin === undefined, subject, () => ({
    sentence: `order ${mix.order.id} is worked at ${facts.calendar.isoOfMin(darkMin!)}, outside the flying day`,
    actual: facts.calendar.isoOfMin(darkMin!),
    allowed: `${flyingDay.from} to ${flyingDay.to}`,
  }));
}

function checkClosures({ calendar }: Facts, ledger: Ledger, { mix, subject }: Stop, span: Span): void {
  for (const { from, to, reason } of mix.field.properties.closures) {
    const closed = { fromMin: calendar.minOfLocal(from), toMin: calendar.lastMinOfLocal(to) };
    ledger.expect("closed", !shareMinute(span, closed), subject, () => ({
      sentence: `field ${mix.field.properties.id} is closed from ${from} to ${to} (${reason})`,
      actual: calendar.isoOfMin(span.fromMin),
      allowed: `not ${from} to ${to}`,
    }));
  }
}

function longestReiMin({ mix }: Stop): number {
  return minutesPerHour * Math.max(...mix.products.map((product) => product.reiHours));
}

function checkEntries({ calendar }: Facts, ledger: Ledger, stop: Stop, span: Span): void {
  const reiMin = longestReiMin(stop);
  for (const { from, to, who } of stop.mix.field.properties.entries) {
    const beginsMin = calendar.minOfLocal(from);
    const entry = { fromMin: beginsMin, toMin: calendar.lastMinOfLocal(to) };
    ledger.expect("entry", !shareMinute(span, entry), stop.subject, () => ({
      sentence: `${who} enter field ${stop.mix.field.properties.id} from ${from} to ${to}`,
      actual: calendar.isoOfMin(span.fromMin),
      allowed: `not ${from} to ${to}`,
    }));
    // The last minute of the work that comes before the entry begins.
    const lastMin = Math.min(span.toMin, beginsMin) - 1;
    if (lastMin < span.fromMin) continue;
    const freeMin = lastMin + 1 + reiMin;
    ledger.expect("rei", freeMin <= beginsMin + rounding, stop.subject, () => ({
      sentence: `${who} enter field ${stop.mix.field.properties.id} at ${from}, the re-entry interval ends at ${calendar.isoOfMin(freeMin)}`,
      actual: calendar.isoOfMin(freeMin),
      allowed: from,
    }));
  }
}

function checkHarvest({ calendar }: Facts, ledger: Ledger, stop: Stop, span: Span): void {
  const { harvestDate, id } = stop.mix.field.properties;
  if (harvestDate === undefined) return;
  const phiDays = Math.max(0, ...stop.mix.uses.map((use) => use?.phiDays ?? 0));
  const lastDate = calendar.dateOfMin(span.toMin - 1);
  const days = daysBetween(lastDate, harvestDate);
  ledger.expect("phi", days >= phiDays, stop.subject, () => ({
    sentence: `field ${id} is worked on ${lastDate}, ${days} days before harvest on ${harvestDate}; ${phiDays} days are needed`,
    actual: days,
    allowed: phiDays,
  }));
  const freeMin = span.toMin + longestReiMin(stop);
  const harvestMin = calendar.minOfDate(harvestDate);
  ledger.expect("phi", freeMin <= harvestMin + rounding, stop.subject, () => ({
    sentence: `the re-entry interval on field ${id} ends at ${calendar.isoOfMin(freeMin)}, harvest begins on ${harvestDate}`,
    actual: calendar.isoOfMin(freeMin),
    allowed: harvestDate,
  }));
}

function checkPastApplications({ calendar }: Facts, ledger: Ledger, { mix, subject }: Stop, span: Span): void {
  const firstDate = calendar.dateOfMin(span.fromMin);
  for (const [index, product] of mix.products.entries()) {
    const needed = mix.uses[index]?.retreatmentDays ?? 0;
    for (const past of mix.field.properties.pastApplications) {
      if (past.productId !== product.id) continue;
      const endedDate = calendar.dateOfMin(calendar.minOfLocal(past.endedAt));
      const days = daysBetween(endedDate, firstDate);
      ledger.expect("retreatment", days >= needed, subject, () => ({
        sentence: `${product.id} was applied to field ${mix.field.properties.id} on ${endedDate}, ${days} days before; ${needed} days are needed`,
        actual: days,
        allowed: needed,
      }));
    }
  }
}

function checkBloom(facts: Facts, ledger: Ledger, sky: Sky, stop: Stop, span: Span): void {
  const { mix, subject } = stop;
  const { bloom, id } = mix.field.properties;
  if (bloom === undefined) return;
  const rules = mix.products.map((product) => product.bloomRule);
  const { startAfterSunriseMin, endBeforeSunsetMin } = facts.operation.settings.limits.beeHours;
  for (const date of datesAround(facts, span)) {
    const day = dayOf(facts, date);
    const worked = partIn(span, day);
    if (worked.fromMin >= worked.toMin || date < bloom.from || date > bloom.to) continue;
    ledger.expect("bloom", !rules.includes("forbidden"), subject, () => ({
      sentence: `field ${id} is in bloom on ${date}, a label forbids the work then`,
      actual: date,
      allowed: `not ${bloom.from} to ${bloom.to}`,
    }));
    if (!rules.includes("outsideBeeHours")) continue;
    const { horizon } = sky.sun(mix, date);
    const beeHours = sunlit(day, horizon, startAfterSunriseMin, horizon, -endBeforeSunsetMin);
    const isClear = !beeHours.some((hours) => shareMinute(worked, hours));
    ledger.expect("bloom", isClear, subject, () => ({
      sentence: `field ${id} is in bloom and worked from ${facts.calendar.isoOfMin(worked.fromMin)}, in the hours of bees`,
      actual: facts.calendar.isoOfMin(worked.fromMin),
      allowed: beeHours.map(({ fromMin, toMin }) => `not ${shown(fromMin)} to ${shown(toMin)}`).join(),
    }));
  }
}
