import type { RemedyChange } from "../../../../../shared/cases/remedyChange.ts";
import { shiftedClock } from "../../../../../shared/cases/shiftedClock.ts";
import type { FieldFeature } from "../../../../../shared/model/field.ts";
import type { Crew } from "../../../../../shared/model/fleet.ts";
import type { Order } from "../../../../../shared/model/order.ts";

/** A change of one thing of the operation: where it stands in the API, and what becomes of it. Null: it cannot be made so any more. */
export interface ThingChange {
  readonly resource: "crews" | "orders" | "fields";
  readonly id: string;
  changed(thing: unknown): unknown;
}

/** What a dispatcher may put in by themselves, or once the grower has agreed; null for what has to be hired or brought first. */
export function thingChangeOf(change: RemedyChange): ThingChange | null {
  switch (change.kind) {
    case "longerShift": {
      const { crewId, dates, earlierMin, laterMin } = change;
      return {
        resource: "crews",
        id: crewId,
        changed: (thing) => longerShift(thing as Crew, dates[0], earlierMin, laterMin),
      };
    }
    case "setShift": {
      const { crewId, date, from, to } = change;
      return { resource: "crews", id: crewId, changed: (thing) => withShift(thing as Crew, { date, from, to }) };
    }
    case "addPad":
      return {
        resource: "fields",
        id: change.fieldId,
        changed: (thing) => withField(thing as FieldFeature, ({ pads }) => ({ pads: [...pads, change.pad] })),
      };
    case "harvestDate":
      return {
        resource: "fields",
        id: change.fieldId,
        changed: (thing) => withField(thing as FieldFeature, () => ({ harvestDate: change.date })),
      };
    case "changeOrder":
      return { resource: "orders", id: change.orderId, changed: (thing) => withMembers(thing as Order, change.set) };
    case "moveThings":
    case "addAircraft":
    case "batterySets":
    case "addCharger":
    case "addTender":
      return null;
  }
}

function longerShift(crew: Crew, date: string, earlierMin: number, laterMin: number): Crew | null {
  const shift = crew.shifts.find((one) => one.date === date);
  const longer = shift === undefined ? null : shiftedClock(shift, earlierMin, laterMin);
  return longer === null ? null : withShift(crew, { date, ...longer });
}

function withShift(crew: Crew, shift: Crew["shifts"][number]): Crew {
  const others = crew.shifts.filter(({ date }) => date !== shift.date);
  return { ...crew, shifts: [...others, shift].sort((a, b) => a.date.localeCompare(b.date)) };
}

type FieldFacts = FieldFeature["properties"];

function withField(field: FieldFeature, changed: (facts: FieldFacts) => Partial<FieldFacts>): FieldFeature {
  return { ...field, properties: { ...field.properties, ...changed(field.properties) } };
}

/** Null takes a member away, as in the changes of cases. */
function withMembers(order: Order, set: object): object {
  const members = { ...order, ...set } as Record<string, unknown>;
  return Object.fromEntries(Object.entries(members).filter(([, value]) => value !== null));
}
