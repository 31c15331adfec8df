import type { SunCourse } from "../../agronomy/sun.ts";
import { addDays, daysBetween, minutesPerHour } from "../../model/calendar.ts";
import type { Facts, Mix, Stop } from "./facts.ts";
import { type Ledger, rounding } from "./report.ts";
import type { Sky } from "./sky.ts";
import { firstUncovered, partIn, type Span, shareMinute } from "./spans.ts";

/** The limits of a minute that follow from dates, sun and the field's calendar. */
export function checkCalendarLimits(facts: Facts, ledger: Ledger, sky: Sky): void {
  for (const stop of facts.stops) {
    const span = { fromMin: stop.work.startMin, toMin: stop.work.endMin };
    checkDates(facts, ledger, stop, span);
    for (const stretch of stop.stretches) {
      checkDaylight(facts, ledger, sky, stop, stretch);
      checkClosures(facts, ledger, stop, stretch);
      checkEntries(facts, ledger, stop, stretch);
    }
    checkHarvest(facts, ledger, stop, span);
    checkPastApplications(facts, ledger, stop, span);
    for (const stretch of stop.stretches) checkBloom(facts, ledger, sky, stop, stretch);
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

/** The flying day of a date; where twilight lasts all night, it begins or ends where the night turns, or at local midnight. */
function flyingDayOf(facts: Facts, sky: Sky, mix: Mix, date: string): Span[] {
  const { from, fromOffsetMin, to, toOffsetMin } = facts.operation.settings.limits.flyingDay;
  const { horizon, civil } = sky.sun(mix, date);
  const up = from === "sunrise" ? horizon : civil;
  const down = to === "sunset" ? horizon : civil;
  const wholeDate = dayOf(facts, date);
  const [lit] = sunlit(wholeDate, up, fromOffsetMin, down, toOffsetMin);
  if (lit === undefined) return [];
  const [yesterday, tomorrow] = [-1, 1].map((days) => sky.sun(mix, addDays(date, days)).horizon);
  // A sun that stays up has no night to turn in, nor has one that rises or sets without the other.
  const turnMin = (evening: SunCourse, morning: SunCourse): number | undefined =>
    evening.kind === "crosses" && morning.kind === "crosses" ? (evening.downMin + morning.upMin) / 2 : undefined;
  const dawnTurnMin = up.kind === "above" ? turnMin(yesterday!, horizon) : undefined;
  const duskTurnMin = down.kind === "above" ? turnMin(horizon, tomorrow!) : undefined;
  return [
    {
      fromMin: dawnTurnMin === undefined ? lit.fromMin : dawnTurnMin + fromOffsetMin,
      toMin: duskTurnMin === undefined ? lit.toMin : duskTurnMin + toOffsetMin,
    },
  ];
}

function checkDaylight(facts: Facts, ledger: Ledger, sky: Sky, stop: Stop, span: Span): void {
  const { day, mix, subject, types } = stop;
  const { flyingDay } = facts.operation.settings.limits;
  const mayWorkAtNight = day.crew?.nightWork === true && types.every((type) => type.nightCapable);
  const flyingDays = datesAround(facts, span).flatMap((date) => flyingDayOf(facts, sky, mix, date));
  const darkMin = firstUncovered(span, flyingDays);
  // Midway between two whole minutes may lie within one.
  const dark = () => facts.calendar.isoOfMin(Math.floor(darkMin!));
  ledger.expect("daylight", mayWorkAtNight || darkMin === undefined, subject, () => ({
    sentence: `order ${mix.order.id} is worked at ${dark()}, outside the flying day`,
    actual: dark(),
    allowed: `${flyingDay.from} to ${flyingDay.to}`,
  }));
}

function checkClosures(facts: Facts, ledger: Ledger, stop: Stop, span: Span): void {
  const { calendar } = facts;
  const { closures, id } = stop.mix.field.properties;
  for (const { from, to, reason, people } of closures) {
    const closed = { fromMin: calendar.minOfLocal(from), toMin: calendar.lastMinOfLocal(to) };
    ledger.expect("closed", !shareMinute(span, closed), stop.subject, () => ({
      sentence: `field ${id} is closed from ${from} to ${to} (${reason})`,
      actual: calendar.isoOfMin(span.fromMin),
      allowed: `not ${from} to ${to}`,
    }));
    if (people) checkReentry(facts, ledger, stop, span, from, `people are in field ${id} from ${from} (${reason})`);
  }
}

function checkEntries(facts: Facts, ledger: Ledger, stop: Stop, span: Span): void {
  const { calendar } = facts;
  const { entries, id } = stop.mix.field.properties;
  for (const { from, to, who } of entries) {
    const entry = { fromMin: calendar.minOfLocal(from), toMin: calendar.lastMinOfLocal(to) };
    ledger.expect("entry", !shareMinute(span, entry), stop.subject, () => ({
      sentence: `${who} enter field ${id} from ${from} to ${to}`,
      actual: calendar.isoOfMin(span.fromMin),
      allowed: `not ${from} to ${to}`,
    }));
    checkReentry(facts, ledger, stop, span, from, `${who} enter field ${id} at ${from}`);
  }
}

function longestReiMin({ mix }: Stop): number {
  return minutesPerHour * Math.max(...mix.products.map((product) => product.reiHours));
}

/** Whether the re-entry interval of what is worked before people come has ended when they do. */
function checkReentry(
  { calendar }: Facts,
  ledger: Ledger,
  stop: Stop,
  span: Span,
  peopleCome: string,
  words: string,
): void {
  const peopleComeMin = calendar.minOfLocal(peopleCome);
  const doneMin = Math.min(span.toMin, peopleComeMin);
  if (doneMin <= span.fromMin) return;
  const freeMin = doneMin + longestReiMin(stop);
  ledger.expect("rei", freeMin <= peopleComeMin + rounding, stop.subject, () => ({
    sentence: `${words}, the re-entry interval ends at ${calendar.isoOfMin(freeMin)}`,
    actual: calendar.isoOfMin(freeMin),
    allowed: peopleCome,
  }));
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
      if (past.productId !== product.id || past.orderId === mix.order.id) continue;
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
  const { calendar } = facts;
  const { bloom, id } = mix.field.properties;
  if (bloom === undefined) return;
  const rules = mix.products.map((product) => product.bloomRule);
  const { startAfterSunriseMin, endBeforeSunsetMin } = facts.operation.settings.limits.beeHours;
  const dates = datesAround(facts, span);
  const beeHours = dates.flatMap((date) => {
    const { horizon } = sky.sun(mix, date);
    return sunlit(dayOf(facts, date), horizon, startAfterSunriseMin, horizon, -endBeforeSunsetMin);
  });
  for (const date of dates) {
    const worked = partIn(span, dayOf(facts, date));
    if (worked.fromMin >= worked.toMin || date < bloom.from || date > bloom.to) continue;
    ledger.expect("bloom", !rules.includes("forbidden"), subject, () => ({
      sentence: `field ${id} is in bloom on ${date}, a label forbids the work then`,
      actual: date,
      allowed: `not ${bloom.from} to ${bloom.to}`,
    }));
    if (!rules.includes("outsideBeeHours")) continue;
    // Of any date: where the sun sets after midnight, bees are still out when the next one has begun.
    const met = beeHours.find((hours) => shareMinute(worked, hours));
    ledger.expect("bloom", met === undefined, subject, () => ({
      sentence: `field ${id} is in bloom and worked from ${calendar.isoOfMin(worked.fromMin)}, in the hours of bees`,
      actual: calendar.isoOfMin(worked.fromMin),
      allowed: `not ${calendar.isoOfMin(met!.fromMin)} to ${calendar.isoOfMin(met!.toMin)}`,
    }));
  }
}
