import { describe, expect, test } from "vitest";
import { addDays } from "../../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../../shared/model/fleet.ts";
import type { AircraftTypeId } from "../../../../shared/model/quantities.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { fuelDays } from "../../../support/mutations/fuelMutations.ts";
import {
  coverOf,
  crewOf,
  type Draft,
  type DraftStop,
  dutyMin,
  localTime,
  moveBy,
  stepsAt,
  stopsOf,
  tenderOf,
  typesOf,
} from "../../../support/mutations/mutation.ts";
import { richDraft } from "../../../support/mutations/richDraft.ts";

function allSteps(draft: Draft, { work }: DraftStop) {
  const minutes = Array.from({ length: work.endMin - work.startMin }, (_, index) => work.startMin + index);
  return new Set(minutes.flatMap((min) => stepsAt(draft, min)));
}

/** Fields that are worked more than once, where the edge for one work is no edge for the other. */
const workedAgain = ["F1", "F6"];

/** Each brings every stop to the very edge of a rule, where it can. */
const stopCases: Record<string, (draft: Draft, stop: DraftStop) => void> = {
  "the order begins and ends with the work": (draft, { work, order, block }) => {
    if (block.parts > 1) return;
    order.earliest = localTime(draft, work.startMin);
    order.latest = localTime(draft, work.endMin);
  },
  "wind at label's, aircraft's and operation's limit": (draft, stop) => {
    for (const step of allSteps(draft, stop)) step.windKph = 12;
    for (const product of stop.products) product.windMinKph = 12;
    for (const product of draft.operation.products) product.windMaxKph = 12;
    for (const type of stop.types) type.windMaxKph = 12;
    draft.operation.settings.limits.windMaxKph = 12;
    draft.operation.settings.limits.windAt = "asMeasured";
  },
  "relative humidity at both limits": (draft, stop) => {
    for (const step of allSteps(draft, stop)) step.humidityPct = 60;
    for (const product of stop.products) Object.assign(product, { humidityMinPct: 60, humidityMaxPct: 60 });
  },
  "released at the height that the label allows": (draft, stop) => {
    for (const type of draft.operation.fleet.aircraftTypes) type.releaseHeightM = 4;
    for (const product of stop.products) product.releaseHeightMaxM = 4;
  },
  "gusts at every limit": (draft, stop) => {
    for (const step of allSteps(draft, stop)) step.gustKph = 22;
    for (const product of stop.products) product.gustMaxKph = 22;
    for (const type of stop.types) type.gustMaxKph = 22;
    draft.operation.settings.limits.gustMaxKph = 22;
  },
  "temperature at both limits": (draft, stop) => {
    for (const step of allSteps(draft, stop)) step.temperatureC = 18;
    for (const product of stop.products) Object.assign(product, { temperatureMinC: 18, temperatureMaxC: 18 });
  },
  "a little less than rain": (draft, stop) => {
    for (const step of allSteps(draft, stop)) Object.assign(step, { rainMm: 0.09, rainProbabilityPct: 49 });
  },
  "wind as weak as has a direction, weaker where it is released": (draft, stop) => {
    draft.operation.settings.limits.windVariableBelowKph = 3;
    for (const step of allSteps(draft, stop)) Object.assign(step, { windKph: 3, windHeightM: 10 });
    for (const product of stop.products) Object.assign(product, { windMinKph: 0, inversionRule: "ignore" });
  },
  "a closure before and one after": (draft, { work, field }) => {
    if (workedAgain.includes(field.id)) return;
    const reason = "irrigation";
    field.closures = [
      { from: localTime(draft, work.startMin - 60), to: localTime(draft, work.startMin), reason, people: true },
      { from: localTime(draft, work.endMin), to: localTime(draft, work.endMin + 60), reason, people: false },
    ];
  },
  "an entry when the re-entry interval ends": (draft, { work, field, products }) => {
    if (workedAgain.includes(field.id)) return;
    const freeMin = work.endMin + 60 * Math.max(...products.map((product) => product.reiHours));
    field.entries = [{ from: localTime(draft, freeMin), to: localTime(draft, freeMin + 30), who: "Crop scouts" }];
  },
  "people in a closure when the re-entry interval ends": (draft, { work, field, products }) => {
    if (workedAgain.includes(field.id)) return;
    const freeMin = work.endMin + 60 * Math.max(...products.map((product) => product.reiHours));
    const [from, to] = [localTime(draft, freeMin), localTime(draft, freeMin + 30)];
    field.closures = [{ from, to, reason: "hand weeding", people: true }];
  },
  "harvest after exactly the label's days": (draft, { work, field, products }) => {
    const phiDays = Math.max(...products.flatMap((product) => product.uses.map((use) => use.phiDays)));
    const harvestDate = addDays(draft.calendar.dateOfMin(work.endMin - 1), Math.max(phiDays, 3));
    if (field.harvestDate === undefined || harvestDate > field.harvestDate) field.harvestDate = harvestDate;
  },
  "applied exactly the label's days before": (draft, { work, field, products }) => {
    if (workedAgain.includes(field.id)) return;
    for (const product of products) {
      const { retreatmentDays } = product.uses.find((use) => use.crop === field.crop)!;
      const date = addDays(draft.calendar.dateOfMin(work.startMin), -retreatmentDays);
      const endedAt = retreatmentDays === 0 ? `${date}T00:00` : `${date}T23:59`;
      field.pastApplications.push({ productId: product.id, endedAt, ratePerHa: 1 });
    }
  },
  "overcast above a light wind, which is possible but not likely": (draft, stop) => {
    for (const step of allSteps(draft, stop)) Object.assign(step, { cloudPct: 88, windKph: 11 });
    for (const product of stop.products) product.inversionRule = "notWhenLikely";
  },
  "overcast above wind, which is no inversion": (draft, stop) => {
    for (const step of allSteps(draft, stop)) Object.assign(step, { cloudPct: 88, windKph: 11.1 });
    for (const product of stop.products) product.inversionRule = "notWhenPossible";
  },
  "in bloom until the day before, and from the day after": (draft, { work, field, products }) => {
    for (const product of products) product.bloomRule = "forbidden";
    delete field.bloom;
    if (workedAgain.includes(field.id)) return;
    const date = draft.calendar.dateOfMin(work.startMin);
    field.bloom =
      field.id === "F3"
        ? { from: addDays(date, -9), to: addDays(date, -1) }
        : { from: addDays(date, 1), to: addDays(date, 9) };
  },
  "passes half a degree off the order's heading, one way or the other": (_, { order, field, work }) => {
    field.headingDeg = 0;
    order.headingDeg = work.detail.headingDeg + (work.padId === "P1" ? 0.5 : 179.5);
  },
  "rate at both of the label's": (_, { order, products, field }) => {
    if (workedAgain.includes(field.id)) return;
    for (const [index, product] of products.entries()) {
      const use = product.uses.find((one) => one.crop === field.crop)!;
      use.rateMinPerHa = order.products[index]!.ratePerHa;
      use.rateMaxPerHa = order.products[index]!.ratePerHa;
    }
  },
};

/** Another type for crew K1's second aircraft on its first day. */
function withOtherType(draft: Draft, figures: Partial<AircraftType>): void {
  const { aircraftTypes, aircraft, batteryStocks, crews } = draft.operation.fleet;
  const small = aircraftTypes.find((type) => type.id === "SMALL")!;
  const other = { ...small, id: "OTHER" as AircraftTypeId, ...figures };
  aircraftTypes.push(other);
  aircraft.find((one) => one.id === "A2")!.typeId = other.id;
  const stock = batteryStocks.find((one) => one.baseId === "B1")!;
  stock.sets = 6;
  draft.operation.settings.bases[0]!.mainsKw = 30;
  batteryStocks.push({ ...stock, aircraftTypeId: other.id, sets: 4 });
  for (const person of crews.flatMap((crew) => crew.people)) person.ratings.push(other.id);
  crews.find(({ id }) => id === "K1")!.mixedOutfit = true;
  const { outfit, activities } = draft.plan.crewDays[0]!;
  for (const activity of activities) if (activity.kind === "work") delete activity.aircraftIds;
  outfit.batterySets = [small, other].map(({ id }) => ({ aircraftTypeId: id, sets: id === other.id ? 3 : 4 }));
}

/** Each brings every crew-day to the very edge of a rule. */
const dayCases: Record<string, (draft: Draft) => void> = {
  "slope at the aircraft's limit": (draft) => {
    for (const type of draft.operation.fleet.aircraftTypes) {
      const slopes = stopsOf(draft).flatMap(({ types, field }) => (types.includes(type) ? [field.slopePct] : []));
      type.slopeMaxPct = Math.max(...slopes);
    }
  },
  "an aircraft that is set up and changed sooner and takes longer to calibrate": (draft) => {
    // SMALL: 10 min + 4 min to set up, 15 min + 4 min to change; not its minutes and the other's calibration together.
    withOtherType(draft, { setupMin: 4, methodChangeMin: 9, calibrationMin: 10 });
  },
  "nights that charge exactly the sets that are out": (draft) => {
    // 1.5 kWh a set. B1: 8 of 10 in 12 h. B2: 4 of 4 in 14 h, the longer of 11 h of rest and 24 h less 10 h of duty.
    const [b1, b2] = draft.operation.settings.bases;
    b1!.mainsKw = (8 * 1.5) / 12;
    b2!.mainsKw = (4 * 1.5) / 14;
  },
  "chargers that charge exactly the sets that are out in the shortest night of a base": (draft) => {
    draft.operation.settings.bases[0]!.mainsKw = 30;
    // Crew K2 is back after 23 h 20 min at the latest: 18 kW x 40 min are 12 kWh, 8 of 10 sets.
    const crew = draft.operation.fleet.crews.find(({ id }) => id === "K2")!;
    Object.assign(crew, { dutyMaxHoursPerDay: 24 - 2 / 3, restMinHours: 0.5 });
  },
  "a little less than rain in half hours, if it went on for the hour": (draft) => {
    draft.operation.weather = draft.operation.weather.flatMap((step) =>
      [0, 30].map((afterMin) => ({
        ...step,
        start: draft.calendar.isoOfMin(coverOf(draft, step).fromMin + afterMin),
        stepMin: 30,
        rainMm: 0.049,
      })),
    );
  },
  "a little less than rain in four hours": (draft) => {
    draft.operation.weather = draft.operation.weather
      .filter((step) => coverOf(draft, step).fromMin % 240 === 0)
      .map((step) => ({ ...step, stepMin: 240, rainMm: 0.099 }));
  },
  "clear, and too windy for an inversion in every hour of every night": (draft) => {
    for (const step of draft.operation.weather) Object.assign(step, { cloudPct: 0, windKph: 11.1 });
    for (const product of draft.operation.products) product.inversionRule = "notWhenPossible";
  },
  "shifts that begin with leaving and end with being back": (draft) => {
    for (const crewDay of draft.plan.crewDays) {
      const shift = crewOf(draft, crewDay).shifts.find((one) => one.date === crewDay.date)!;
      shift.from = draft.calendar.clockOfMin(crewDay.activities[0]!.startMin);
      shift.to = draft.calendar.clockOfMin(crewDay.activities.at(-1)!.endMin);
    }
  },
  "duty as long as is allowed in a day and in a week": (draft) => {
    for (const crew of draft.operation.fleet.crews) {
      const dutiesMin = draft.plan.crewDays.filter(({ crewId }) => crewId === crew.id).map(dutyMin);
      crew.dutyMaxHoursPerDay = Math.max(...dutiesMin) / 60;
      crew.dutyMaxHoursPerWeek = dutiesMin.reduce((sum, minutes) => sum + minutes, 0) / 60;
    }
  },
  "rest as short as is allowed": (draft) => {
    for (const crew of draft.operation.fleet.crews) {
      const days = draft.plan.crewDays.filter(({ crewId }) => crewId === crew.id);
      if (days.length !== 2) continue;
      crew.restMinHours = (days[1]!.activities[0]!.startMin - days[0]!.activities.at(-1)!.endMin) / 60;
    }
  },
  "no more places, aircraft and battery sets than are taken": (draft) => {
    for (const crewDay of draft.plan.crewDays) {
      const slots = typesOf(draft, crewDay).reduce((sum, type) => sum + type.transportSlots, 0);
      if (slots > 0 && crewDay.date === "2027-06-07") tenderOf(draft, crewDay).transportSlots = slots;
    }
    for (const stock of draft.operation.fleet.batteryStocks) stock.sets = stock.baseId === "B1" ? 8 : 4;
  },
  "a generator that charges exactly two sets": (draft) => {
    draft.operation.fleet.tenders.find((tender) => tender.id === "T1")!.generatorKw = 18;
  },
  "fuel down to the reserve when the day is done": (draft) => {
    const longest = fuelDays(draft).reduce((a, b) => (b.airMin > a.airMin ? b : a));
    expect(longest.aircraft).toBe(1);
    longest.power.enduranceMin = longest.airMin / (1 - longest.power.reserveFrac);
    // No filling, and no time for one.
    longest.stops.at(-1)!.work.detail.groundMin -= longest.spareS / 60;
  },
  "two tanks of fuel down to the reserve, the second filled in just the time that there is": (draft) => {
    const longest = fuelDays(draft).reduce((a, b) => (b.airMin > a.airMin ? b : a));
    longest.power.enduranceMin = longest.airMin / 2 / (1 - longest.power.reserveFrac);
    longest.power.refuelS = 60;
    // 31.4 of 48.7 min are flown in the first work, where the tank runs dry: a minute there, not five in the second.
    const [first, second] = longest.stops;
    first!.work.detail.groundMin += 1;
    second!.work.detail.groundMin -= 5;
  },
  "the tender's water down to the last litre": (draft) => {
    // Crew K2 takes 30 ha x 40 L/ha, a clean-out of 40 L and 15.2 ha x 15 L/ha.
    draft.operation.fleet.tenders.find((tender) => tender.id === "T2")!.waterL = 1200 + 40 + 228;
  },
  "as many applications as are allowed in a season": (draft) => {
    // F1: one past application of 1 per ha, then 1 and 1.2.
    for (const use of draft.operation.products.find((product) => product.id === "FUN")!.uses) {
      use.seasonMaxCount = 3;
      use.seasonMaxPerHa = 3.2;
    }
  },
  "a tender that goes on to the other crew the minute it is back": (draft) => {
    const [earlier, later] = [draft.plan.crewDays[3]!, draft.plan.crewDays[4]!];
    expect(earlier.outfit.tenderId).toBe(later.outfit.tenderId);
    const byMin = later.activities[0]!.startMin - earlier.activities.at(-1)!.endMin;
    for (const activity of earlier.activities) moveBy(activity, byMin);
    crewOf(draft, earlier).shifts.find((shift) => shift.date === earlier.date)!.to = "19:00";
  },
};

describe("what is only just allowed is no breach", () => {
  const broken = (draft: Draft) =>
    checkPlan(draft.operation, draft.plan).breaches.filter(({ rule }) => rule !== "score");

  test.each(Object.entries(stopCases))("%s", (_, change) => {
    const draft = richDraft();
    for (const stop of stopsOf(draft)) change(draft, stop);
    expect(broken(draft)).toEqual([]);
  });

  test.each(Object.entries(dayCases))("%s", (_, change) => {
    const draft = richDraft();
    change(draft);
    expect(broken(draft)).toEqual([]);
  });
});
