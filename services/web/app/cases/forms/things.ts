import type { Operation } from "../../../../../shared/model/operation.ts";
import { shortDayWords } from "../../kit/dates.ts";

export interface Choice {
  readonly id: string;
  readonly words: string;
}

/** Things of the operation that a change can name. Of people those of the crew that the change names. */
export const thingKinds = [
  "aircraftTypes",
  "batteryTypes",
  "bases",
  "aircraft",
  "chargers",
  "tenders",
  "crews",
  "people",
  "licences",
  "fields",
  "orders",
  "days",
] as const;
export type ThingKind = (typeof thingKinds)[number];

type Lister = (operation: Operation, crewId: unknown) => Choice[];

const listers: Readonly<Record<ThingKind, Lister>> = {
  aircraftTypes: ({ fleet }) => named(fleet.aircraftTypes),
  batteryTypes: ({ fleet }) => named(fleet.aircraftTypes.filter(({ power }) => power.source === "battery")),
  bases: ({ settings }) => named(settings.bases),
  aircraft: (of) =>
    of.fleet.aircraft.map(({ id, typeId, baseId }) => ({
      id,
      words: `${id}: ${nameOf(of.fleet.aircraftTypes, typeId)}, ${nameOf(of.settings.bases, baseId)}`,
    })),
  chargers: (of) =>
    of.fleet.chargers.map(({ id, bays, kw, baseId }) => ({
      id,
      words: `${id}: ${bays} bays, ${kw} kW, ${nameOf(of.settings.bases, baseId)}`,
    })),
  tenders: (of) =>
    of.fleet.tenders.map(({ id, name, baseId }) => ({
      id,
      words: `${name}, ${nameOf(of.settings.bases, baseId)}`,
    })),
  crews: (of) =>
    of.fleet.crews.map(({ id, name, baseId }) => ({ id, words: `${name}, ${nameOf(of.settings.bases, baseId)}` })),
  people: ({ fleet }, crewId) => named(fleet.crews.find(({ id }) => id === crewId)?.people ?? []),
  licences: ({ fleet, products }) =>
    [
      ...new Set([
        ...products.flatMap(({ licenceClass }) => licenceClass ?? []),
        ...fleet.crews.flatMap(({ people }) => people.flatMap(({ licenceClasses }) => licenceClasses)),
      ]),
    ]
      .sort()
      .map((id) => ({ id, words: id })),
  fields: ({ fields }) =>
    fields.features.map(({ properties: { id, name, grower } }) => ({ id, words: `${name} (${grower}), ${id}` })),
  orders: (of) => {
    const fields = new Map<string, string>(of.fields.features.map(({ properties: { id, name } }) => [id, name]));
    return of.orders.map(({ id, fieldId }) => ({ id, words: `${id}: ${fields.get(fieldId) ?? fieldId}` }));
  },
  days: ({ settings }) =>
    Array.from({ length: settings.days }, (_, day) => dayAfter(settings.firstDay, day)).map((date) => ({
      id: date,
      words: shortDayWords(date),
    })),
};

export function choicesOf(kind: ThingKind, operation: Operation, crewId?: unknown): Choice[] {
  return listers[kind](operation, crewId);
}

const dayMs = 86_400_000;
const dayAfter = (date: string, days: number) => new Date(Date.parse(date) + days * dayMs).toISOString().slice(0, 10);

interface Named {
  readonly id: string;
  readonly name: string;
}

const named = (things: readonly Named[]): Choice[] => things.map(({ id, name }) => ({ id, words: name }));
const nameOf = (things: readonly Named[], id: string): string => things.find((one) => one.id === id)?.name ?? id;
