import { addDays } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { AircraftTypeId, BaseId } from "../model/quantities.ts";
import type { Change } from "./change.ts";

/** One more of something: what is asked what it would bring. */
export interface Unit {
  readonly kind: UnitKind;
  readonly changes: readonly Change[];
  /** Where it is an hour or a day of one crew. */
  readonly crewDay?: { readonly crewId: string; readonly date: string };
  readonly crewId?: string;
  readonly baseId?: string;
  readonly date?: string;
  /** Where the changes do not say it well. */
  readonly words?: string;
}

export const unitKinds = [
  "hourLater",
  "hourEarlier",
  "dayWorked",
  "aircraft",
  "tender",
  "charger",
  "dutyHour",
  "calmHour",
] as const;
export type UnitKind = (typeof unitKinds)[number];

/** Those that nobody can decide on, or that rules of duty forbid: told to know where the week is tight, never as something to do. */
export const onlyToKnow: ReadonlySet<UnitKind> = new Set(["dutyHour", "calmHour"]);

const hourMin = 60;

/** An hour more of every shift at its end and at its beginning, every day off worked, and an hour of duty a week of every crew; things of every kind at every base that has crews. */
export function everyUnit(operation: Operation): Unit[] {
  const { fleet, settings } = operation;
  const dates = Array.from({ length: settings.days }, (_, day) => addDays(settings.firstDay, day));
  const crewed = settings.bases.filter(({ id }) => fleet.crews.some(({ baseId }) => baseId === id));
  return [
    ...fleet.crews.flatMap((crew) =>
      dates.flatMap((date): Unit[] => {
        const crewDay = { crewId: crew.id, date };
        const hour = { kind: "longerShift" as const, crewId: crew.id, dates: [date], earlierMin: 0, laterMin: 0 };
        const isOn = crew.shifts.some((shift) => shift.date === date);
        if (isOn)
          return [
            { kind: "hourLater", crewDay, changes: [{ ...hour, laterMin: hourMin }] },
            { kind: "hourEarlier", crewDay, changes: [{ ...hour, earlierMin: hourMin }] },
          ];
        const usual = usualShift(operation, crew.id, date);
        if (usual === null) return [];
        return [{ kind: "dayWorked", crewDay, changes: [{ kind: "setShift", crewId: crew.id, date, ...usual }] }];
      }),
    ),
    ...crewed.flatMap(({ id: baseId }) => [
      ...fleet.aircraftTypes.map(
        ({ id: typeId }): Unit => ({
          kind: "aircraft",
          baseId,
          changes: [
            { kind: "addAircraft", typeId, baseId, count: 1, batterySets: setsOfOne(operation, typeId, baseId) },
          ],
        }),
      ),
      ...firstOfEach(
        fleet.tenders.filter((tender) => tender.baseId === baseId),
        ({ id: _id, name: _name, ...alike }) => alike,
      ).map(({ id: like }): Unit => ({ kind: "tender", baseId, changes: [{ kind: "addTender", like, count: 1 }] })),
      ...firstOfEach(
        fleet.chargers.filter((charger) => charger.baseId === baseId),
        ({ bays, kw }) => ({ bays, kw }),
      ).map(
        ({ bays, kw }): Unit => ({
          kind: "charger",
          baseId,
          changes: [{ kind: "addCharger", baseId, bays, kw, count: 1 }],
        }),
      ),
    ]),
    ...fleet.crews.map(
      ({ id: crewId, dutyMaxHoursPerWeek }): Unit => ({
        kind: "dutyHour",
        crewId,
        changes: [{ kind: "changeCrew", crewId, set: { dutyMaxHoursPerWeek: dutyMaxHoursPerWeek + 1 } }],
      }),
    ),
  ];
}

/** Hours of the crew's nearest shift, the earlier of two as near. */
function usualShift({ fleet }: Operation, crewId: string, date: string): { from: string; to: string } | null {
  const { shifts } = fleet.crews.find(({ id }) => id === crewId)!;
  const farDays = (other: string) => Math.abs(Date.parse(other) - Date.parse(date));
  const [nearest] = shifts.toSorted((a, b) => farDays(a.date) - farDays(b.date) || (a.date < b.date ? -1 : 1));
  return nearest === undefined ? null : { from: nearest.from, to: nearest.to };
}

/** Battery sets that come with one more aircraft: as many as the base, or else the operation, has for each. */
function setsOfOne({ fleet }: Operation, typeId: AircraftTypeId, baseId: BaseId): number {
  const shareAt = (isThere: (baseId: string) => boolean) => {
    const aircraft = fleet.aircraft.filter((one) => one.typeId === typeId && isThere(one.baseId)).length;
    const stocks = fleet.batteryStocks.filter((one) => one.aircraftTypeId === typeId && isThere(one.baseId));
    return aircraft === 0 ? null : Math.round(stocks.reduce((sum, { sets }) => sum + sets, 0) / aircraft);
  };
  return shareAt((id) => id === baseId) ?? shareAt(() => true) ?? 0;
}

function firstOfEach<Thing>(things: readonly Thing[], what: (thing: Thing) => object): Thing[] {
  return [...new Map(things.toReversed().map((thing) => [JSON.stringify(what(thing)), thing])).values()].reverse();
}
