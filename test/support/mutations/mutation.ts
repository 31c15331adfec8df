import { sunDay } from "../../../shared/agronomy/sun.ts";
import { geometryCentroidLonLat } from "../../../shared/geo/convert.ts";
import type { LonLat } from "../../../shared/geo/plane.ts";
import { type Calendar, createCalendar } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import type { LabelUse, Product } from "../../../shared/model/product.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import type { RuleName } from "../../../shared/plan/check/report.ts";
import { type Span, shareMinute } from "../../../shared/plan/check/spans.ts";
import type { Activity, Block, CrewDay, Plan } from "../../../shared/plan/plan.ts";

export type Random = () => number;

export interface Pair {
  readonly operation: Operation;
  readonly plan: Plan;
}

/** A way to break one rule of a plan that holds. It may break others as well. Null: not possible with this plan. */
export interface Mutation {
  readonly rule: RuleName;
  readonly name: string;
  mutate(operation: Operation, plan: Plan, random: Random): Pair | null;
}

/** Copies that a mutation may change, and the ways it finds its way about in them. */
export interface Draft {
  readonly operation: Operation;
  readonly plan: Plan;
  readonly calendar: Calendar;
  readonly random: Random;
}

/** The mutation answers false when it does not apply. */
export function mutation(rule: RuleName, name: string, change: (draft: Draft) => boolean): Mutation {
  return {
    rule,
    name,
    mutate: (operation, plan, random) => {
      const draft = {
        operation: structuredClone(operation),
        plan: structuredClone(plan),
        calendar: createCalendar(operation.settings),
        random,
      };
      return change(draft) ? { operation: draft.operation, plan: draft.plan } : null;
    },
  };
}

export function pick<Item>({ random }: Draft, items: readonly Item[]): Item | undefined {
  return items[Math.floor(random() * items.length)];
}

export function pickInt({ random }: Draft, from: number, to: number): number {
  return from + Math.floor(random() * (to - from + 1));
}

/** A change to a stop picked at random. */
export function onStop(rule: RuleName, name: string, change: (draft: Draft, stop: DraftStop) => boolean): Mutation {
  return mutation(rule, name, (draft) => {
    const stop = pick(draft, stopsOf(draft));
    return stop !== undefined && change(draft, stop);
  });
}

export type Work = Extract<Activity, { kind: "work" }>;

export interface DraftStop {
  readonly crewDay: CrewDay;
  readonly work: Work;
  readonly block: Block;
  readonly order: Order;
  readonly products: Product[];
  readonly field: Operation["fields"]["features"][number]["properties"];
  readonly types: AircraftType[];
}

/** Types by aircraft of the outfit, or of those that a work names. */
export function typesOf({ operation }: Draft, { outfit }: CrewDay, work?: Work): AircraftType[] {
  const { aircraft, aircraftTypes } = operation.fleet;
  return (work?.aircraftIds ?? outfit.aircraftIds).map((id) => {
    const { typeId } = aircraft.find((one) => one.id === id)!;
    return aircraftTypes.find((type) => type.id === typeId)!;
  });
}

export function stopsOf(draft: Draft): DraftStop[] {
  const { operation, plan } = draft;
  return plan.crewDays.flatMap((crewDay) =>
    crewDay.activities.flatMap((work): DraftStop[] => {
      if (work.kind !== "work") return [];
      const block = plan.blocks.find((one) => one.id === work.blockId)!;
      const order = operation.orders.find((one) => one.id === block.orderId)!;
      const products = order.products.map(({ productId }) => operation.products.find((one) => one.id === productId)!);
      const field = operation.fields.features.find((one) => one.properties.id === order.fieldId)!.properties;
      return [{ crewDay, work, block, order, products, field, types: typesOf(draft, crewDay, work) }];
    }),
  );
}

export function useOf(draft: Draft, stop: DraftStop): { product: Product; use: LabelUse; ratePerHa: number } {
  const index = pickInt(draft, 0, stop.products.length - 1);
  const product = stop.products[index]!;
  const use = product.uses.find((one) => one.crop === stop.field.crop)!;
  return { product, use, ratePerHa: stop.order.products[index]!.ratePerHa };
}

/** A minute in which there is work: a pause bears everything. */
export function minuteOf(draft: Draft, { work }: DraftStop): number {
  return pick(draft, workedMinutes(work))!;
}

export function workedMinutes({ startMin, endMin, pauses = [] }: Work): number[] {
  const minutes = Array.from({ length: endMin - startMin }, (_, index) => startMin + index);
  return minutes.filter((min) => !pauses.some((pause) => pause.startMin <= min && min < pause.endMin));
}

/** Local date and time of a minute as orders and fields write them. */
export function localTime({ calendar }: Draft, min: number): string {
  return calendar.isoOfMin(min).slice(0, "2027-06-07T05:30".length);
}

/** The minutes that a step covers. */
export function coverOf({ calendar }: Draft, { start, stepMin }: WeatherStep): Span {
  const fromMin = calendar.minOfInstant(start);
  return { fromMin, toMin: fromMin + stepMin };
}

/** Every station's step that covers the minute. */
export function stepsAt(draft: Draft, min: number): WeatherStep[] {
  return draft.operation.weather.filter((step) => {
    const { fromMin, toMin } = coverOf(draft, step);
    return fromMin <= min && min < toMin;
  });
}

/** Cuts every station's step at the minute into shorter ones, each with all its weather; those that then cover the minute. */
export function cutSteps(draft: Draft, min: number, stepMin: number): WeatherStep[] {
  const whole = stepsAt(draft, min).filter((step) => step.stepMin % stepMin === 0);
  const pieces = whole.flatMap((step) => {
    const { fromMin } = coverOf(draft, step);
    return Array.from({ length: step.stepMin / stepMin }, (_, piece) => ({
      ...step,
      start: draft.calendar.isoOfMin(fromMin + piece * stepMin),
      stepMin,
    }));
  });
  draft.operation.weather = [...draft.operation.weather.filter((step) => !whole.includes(step)), ...pieces];
  return stepsAt(draft, min).filter((step) => pieces.includes(step));
}

/** Makes every station's step at the minute last longer; the station's steps that it runs into are gone. */
export function lengthenSteps(draft: Draft, min: number, stepMin: number): WeatherStep[] {
  const longer = stepsAt(draft, min).filter((step) => step.stepMin <= stepMin);
  for (const step of longer) {
    step.stepMin = stepMin;
    draft.operation.weather = draft.operation.weather.filter(
      (other) =>
        other === step ||
        other.stationId !== step.stationId ||
        !shareMinute(coverOf(draft, other), coverOf(draft, step)),
    );
  }
  return longer;
}

/** The activity so many minutes later, a work with its pauses. */
export function moveBy(activity: Activity, minutes: number): void {
  const pauses = (activity.kind === "work" && activity.pauses) || [];
  for (const span of [activity, ...pauses]) {
    span.startMin += minutes;
    span.endMin += minutes;
  }
}

export function crewOf({ operation }: Draft, { crewId }: CrewDay): Operation["fleet"]["crews"][number] {
  return operation.fleet.crews.find((crew) => crew.id === crewId)!;
}

export function tenderOf({ operation }: Draft, { outfit }: CrewDay): Operation["fleet"]["tenders"][number] {
  return operation.fleet.tenders.find((tender) => tender.id === outfit.tenderId)!;
}

export function dutyMin({ activities }: CrewDay): number {
  return activities.at(-1)!.endMin - activities[0]!.startMin;
}

/** An activity of some kind anywhere in the plan. */
export interface Found<Kind extends Activity["kind"]> {
  readonly crewDay: CrewDay;
  readonly index: number;
  readonly activity: Extract<Activity, { kind: Kind }>;
}

export function activitiesOf<Kind extends Activity["kind"]>({ plan }: Draft, kind: Kind): Found<Kind>[] {
  return plan.crewDays.flatMap((crewDay) =>
    crewDay.activities.flatMap((activity, index) =>
      activity.kind === kind ? [{ crewDay, index, activity: activity as Extract<Activity, { kind: Kind }> }] : [],
    ),
  );
}

export interface SomeActivity {
  readonly crewDay: CrewDay;
  readonly index: number;
  readonly activity: Activity;
}

/** Nothing instead of the activity, for as long. */
export function replaceByWait({ crewDay, index, activity: { startMin, endMin } }: SomeActivity): void {
  crewDay.activities[index] = { kind: "wait", startMin, endMin };
}

/** The activity ends early and the time that is left is waited away. */
export function shorten({ crewDay, index, activity }: SomeActivity, minutes: number): void {
  const { endMin } = activity;
  activity.endMin = activity.startMin + minutes;
  crewDay.activities.splice(index + 1, 0, { kind: "wait", startMin: activity.endMin, endMin });
}

/** Two works of different crews that share a minute. */
export function simultaneousStops(draft: Draft): [DraftStop, DraftStop][] {
  const stops = stopsOf(draft);
  return stops.flatMap((a) =>
    stops
      .filter(
        (b) =>
          a.crewDay.crewId !== b.crewDay.crewId &&
          a.work.startMin < b.work.endMin &&
          b.work.startMin < a.work.endMin &&
          a.order !== b.order,
      )
      .map((b): [DraftStop, DraftStop] => [a, b]),
  );
}

/** Sunrise and sunset at the field on a date; null far north or south in summer and winter. */
export function sunOver(draft: Draft, stop: DraftStop, date: string): { upMin: number; downMin: number } | null {
  const [lonDeg, latDeg] = centreOf(draft, stop);
  const { horizon } = sunDay(draft.calendar, date, latDeg, lonDeg);
  return horizon.kind === "crosses" ? horizon : null;
}

/** The centroid of the stop's field. */
export function centreOf({ operation }: Draft, { field }: DraftStop): LonLat {
  return geometryCentroidLonLat(operation.fields.features.find((one) => one.properties === field)!.geometry);
}
