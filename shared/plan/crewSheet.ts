import { type Agronomy, createAgronomy } from "../agronomy/agronomy.ts";
import { harvestAndEntry } from "../agronomy/harvestAndEntry.ts";
import { addDays } from "../model/calendar.ts";
import { type Weekday, weekdayOf } from "../model/dateWords.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import { caution } from "./caution.ts";
import { sideOfField } from "./fieldSide.ts";
import { type HazardNear, hazardsNear } from "./hazards.ts";
import { clockShiftMin, type LocalTime, localTimeOf } from "./localTime.ts";
import { metricMeasures } from "./measures.ts";
import { type Mix, mixOf } from "./mix.ts";
import { type Neighbour, neighboursOf } from "./neighbours.ts";
import { beginsAt, sleepsAtWords } from "./nights.ts";
import { aircraftWords, outfitWords } from "./outfitWords.ts";
import { type PauseView, pausesOf } from "./pauseView.ts";
import type { CrewDay, Plan } from "./plan.ts";
import { indexPlan, type PlanIndex } from "./planIndex.ts";
import { type SheetWindow, sheetWindow } from "./sheetWindow.ts";
import { methodOf, type SiteLimits, siteLimits } from "./siteLimits.ts";
import { type TimelineRow, timelineOf } from "./timeline.ts";
import { crewDayTotals, found, groupBy, type Stop, sumOf, type Work } from "./totals.ts";

export interface SheetStop {
  readonly number: number;
  readonly blockId: string;
  readonly orderId: string;
  readonly part: number;
  readonly parts: number;
  /** Which side of the field this part is: `north-west side`; empty when the order is one block. */
  readonly side: string;
  readonly fieldId: string;
  readonly fieldName: string;
  readonly grower: string;
  readonly crop: string;
  readonly notes: string;
  readonly padId: string;
  readonly padLatDeg: number;
  readonly padLonDeg: number;
  readonly method: "liquid" | "granular";
  readonly start: LocalTime;
  readonly end: LocalTime;
  readonly pauses: readonly PauseView[];
  readonly areaHa: number;
  /** L of mix or kg of granules per hectare. */
  readonly ratePerHa: number;
  readonly passes: number;
  readonly headingDeg: number;
  readonly speedMps: number;
  readonly batteryChanges: number;
  /** Which aircraft of the outfit, in words; nothing where all of it works. */
  readonly aircraft: string;
  readonly mix: Mix;
  readonly siteLimits: SiteLimits;
  readonly window: SheetWindow | null;
  /** The longest re-entry interval of the mix, which runs from the end of the work. */
  readonly reentryHours: number;
  /** Nobody enters before this, should the work end as planned. */
  readonly reentryFrom: LocalTime;
  /** The longest pre-harvest interval of the mix, in days after that of the work. */
  readonly phiDays: number;
  /** Harvest may begin on this date, by both intervals, should the work end as planned. */
  readonly harvestFrom: string;
  /** The field's next work in this plan, after which both run anew; null when there is none. */
  readonly workedAgain: LocalTime | null;
  readonly neighbours: readonly Neighbour[];
  /** What an aircraft could fly into, what is nearest to the field first. */
  readonly hazards: readonly HazardNear[];
  /** The day on which somebody last looked for them; null: nobody is known to have. */
  readonly hazardsSurveyed: string | null;
}

export interface CrewSheet {
  readonly caution: string;
  readonly operationName: string;
  readonly timeZone: string;
  /** Of the operation: Delta T is measured at the pressure of the air there. */
  readonly altitudeM: number;
  readonly date: string;
  readonly weekday: Weekday;
  readonly clockShiftMin: number;
  readonly crewId: string;
  readonly crewName: string;
  readonly people: readonly { readonly name: string; readonly licenceClasses: readonly string[] }[];
  /** Where the day begins: the crew's base, or the one where it slept. */
  readonly base: string;
  /** The base at which the crew sleeps away from home after this day; null when it comes home. */
  readonly sleepsAt: string | null;
  readonly leaveBy: LocalTime;
  readonly backAt: LocalTime;
  readonly outfit: {
    readonly aircraft: readonly string[];
    readonly batteries: readonly string[];
    readonly chargers: readonly string[];
    readonly tender: string;
  };
  readonly timeline: readonly TimelineRow[];
  readonly stops: readonly SheetStop[];
  readonly totals: {
    readonly dutyMin: number;
    readonly workMin: number;
    readonly roadKm: number;
    readonly areaHa: number;
    readonly loads: number;
    readonly batteryChanges: number;
    /** Water for the mixes and for the clean-outs, L. */
    readonly carrierL: number;
    readonly cleanOutL: number;
    readonly products: readonly {
      readonly productId: string;
      readonly name: string;
      readonly registrationNumber: string;
      readonly amount: number;
      readonly unit: "L" | "kg";
    }[];
  };
}

/** The crew lead's day in the units of whoever reads its words, or null when the plan has no work for the crew on that date. */
export function crewSheet(
  operation: Operation,
  plan: Plan,
  crewId: string,
  date: string,
  measures = metricMeasures,
): CrewSheet | null {
  const crewDay = plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
  if (crewDay === undefined) return null;
  const index = indexPlan(operation, plan);
  const crew = index.crew(crewId);
  const outfit = outfitWords(index, crewDay.outfit, measures);
  const totals = crewDayTotals(crewDay, index.blocks);
  const agronomy = createAgronomy(operation, index.calendar);
  const ownStops = index.stops.filter((stop) => stop.crewDay === crewDay);
  const pausesByWork = new Map(ownStops.map((stop) => [stop.work, pausesOf(index, () => agronomy, stop)]));
  const pausesOfWork = (work: Work) => found(pausesByWork, work);
  const stops = ownStops.map((stop, position) =>
    sheetStop(index, agronomy, stop, position + 1, pausesOfWork(stop.work)),
  );

  return {
    caution,
    operationName: operation.settings.name,
    timeZone: operation.settings.timeZone,
    altitudeM: operation.settings.altitudeM,
    date,
    weekday: weekdayOf(date),
    clockShiftMin: clockShiftMin(index.calendar, date, addDays(date, 1)),
    crewId,
    crewName: crew.name,
    people: crew.people.map(({ name, licenceClasses }) => ({ name, licenceClasses })),
    base: index.placeWords(beginsAt(crewDay) ?? crew.baseId),
    sleepsAt: sleepsAtWords(index, crewDay),
    leaveBy: localTimeOf(index.calendar, totals.startMin),
    backAt: localTimeOf(index.calendar, totals.endMin),
    outfit: {
      aircraft: outfit.aircraft,
      batteries: outfit.batteries,
      chargers: outfit.chargers,
      tender: outfit.tender,
    },
    timeline: timelineOf(index, crewDay, pausesOfWork, measures),
    stops,
    totals: {
      dutyMin: totals.dutyMin,
      workMin: totals.workMin,
      roadKm: totals.roadKm,
      areaHa: totals.areaHa,
      loads: sumOf(stops, (stop) => stop.mix.full.loads + (stop.mix.last?.loads ?? 0)),
      batteryChanges: sumOf(stops, (stop) => stop.batteryChanges),
      carrierL: sumOf(stops, (stop) => stop.mix.whole.carrierL),
      cleanOutL: cleanOutL(crewDay),
      products: productTotals(stops),
    },
  };
}

function sheetStop(
  index: PlanIndex,
  agronomy: Agronomy,
  stop: Stop,
  number: number,
  pauses: readonly PauseView[],
): SheetStop {
  const { block, work } = stop;
  const order = index.order(block.orderId);
  const field = index.field(order.fieldId);
  const products = index.productsOf(order);
  const pad = field.properties.pads.find((one) => one.id === work.padId)!;
  const next = index.stops
    .filter((other) => other.work.startMin >= work.endMin && index.order(other.block.orderId).fieldId === order.fieldId)
    .sort((a, b) => a.work.startMin - b.work.startMin)[0];
  const { loads, loadSize, amount, passes, headingDeg, speedMps, batteryChanges } = work.detail;

  return {
    number,
    blockId: block.id,
    orderId: order.id,
    part: block.part,
    parts: block.parts,
    side: sideOfField(field, block),
    fieldId: field.properties.id,
    fieldName: field.properties.name,
    grower: field.properties.grower,
    crop: field.properties.crop,
    notes: order.notes,
    padId: pad.id,
    padLatDeg: pad.latDeg,
    padLonDeg: pad.lonDeg,
    method: methodOf(products),
    start: localTimeOf(index.calendar, work.startMin),
    end: localTimeOf(index.calendar, work.endMin),
    pauses,
    areaHa: block.areaHa,
    ratePerHa: order.carrierLPerHa ?? sumOf(order.products, (part) => part.ratePerHa),
    passes,
    headingDeg,
    speedMps,
    batteryChanges,
    aircraft: aircraftWords(index, work),
    mix: mixOf({ order, products, loads, loadSize, amount }),
    siteLimits: siteLimits({ order, products, types: index.typesOf(stop), limits: index.operation.settings.limits }),
    window: sheetWindow(index, agronomy, stop, order),
    ...intervalsAfter(index, order, work.endMin),
    workedAgain: next === undefined ? null : localTimeOf(index.calendar, next.work.startMin),
    neighbours: neighboursOf(index.operation, field, products),
    hazards: hazardsNear(index.operation, field, [pad.lonDeg, pad.latDeg]),
    hazardsSurveyed: field.properties.hazardsSurveyed ?? null,
  };
}

/** Re-entry and harvest after work that ends at the minute: the longest interval of the mix counts. */
function intervalsAfter(
  index: PlanIndex,
  order: Order,
  endMin: number,
): Pick<SheetStop, "reentryHours" | "reentryFrom" | "phiDays" | "harvestFrom"> {
  const products = index.productsOf(order);
  const crop = index.field(order.fieldId).properties.crop;
  const { entryMin, harvestDate, phiDays, reiHours } = harvestAndEntry(index.calendar, endMin, {
    phiDays: products.map((product) => product.uses.find((use) => use.crop === crop)?.phiDays ?? 0),
    reiHours: products.map((product) => product.reiHours),
  });
  return {
    reentryHours: reiHours,
    reentryFrom: localTimeOf(index.calendar, entryMin),
    phiDays,
    harvestFrom: harvestDate,
  };
}

function cleanOutL(crewDay: CrewDay): number {
  return sumOf(crewDay.activities, (activity) => (activity.kind === "cleanOut" ? activity.waterL : 0));
}

function productTotals(stops: readonly SheetStop[]): CrewSheet["totals"]["products"] {
  const parts = groupBy(
    stops.flatMap((stop) => stop.mix.whole.parts),
    (part) => part.productId,
  );
  return [...parts.values()].map((group) => ({ ...group[0]!, amount: sumOf(group, (part) => part.amount) }));
}
