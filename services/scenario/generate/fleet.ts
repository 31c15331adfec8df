import { addDays } from "../../../shared/model/calendar.ts";
import { aircraftTypes } from "./aircraftTypes.ts";
import type { CrewDraft, FleetDraft } from "./draft.ts";
import { personName } from "./names.ts";
import type { Random } from "./random.ts";

/** What one crew takes along: the aircraft that it works and the sets and chargers that keep them flying. */
interface CrewKit {
  readonly typeId: string;
  readonly aircraft: number;
  readonly batterySets: number;
  readonly chargers: readonly { readonly bays: number; readonly kw: number }[];
  readonly crewName: string;
}

/** Kits are dealt out in this order, so that any number of crews has the same mixture of sizes. */
const kits: readonly CrewKit[] = [
  { typeId: "crane-50", aircraft: 2, batterySets: 7, chargers: [{ bays: 2, kw: 18 }], crewName: "Crane" },
  { typeId: "heron-30", aircraft: 2, batterySets: 7, chargers: [{ bays: 2, kw: 14 }], crewName: "Heron" },
  { typeId: "stork", aircraft: 1, batterySets: 0, chargers: [], crewName: "Stork" },
  { typeId: "crane-50", aircraft: 2, batterySets: 7, chargers: [{ bays: 2, kw: 18 }], crewName: "Crane" },
  { typeId: "lark-10", aircraft: 3, batterySets: 12, chargers: [{ bays: 4, kw: 10 }], crewName: "Lark" },
];

/** Hectares that a crew with this kit works on an ordinary day of calm hours, one type of day with another. Our choice. */
const dayHa: Readonly<Record<string, number>> = { "crane-50": 85, "heron-30": 60, "lark-10": 35, stork: 190 };

export interface FleetRequest {
  readonly crews: number;
  readonly bases: readonly string[];
  readonly firstDay: string;
  readonly days: number;
}

/** Hectares that so many crews work in so many days; one tender in five crews is lacking. */
export function roughCapacityHa(crews: number, days: number): number {
  const all = Array.from({ length: crews }, (_, crew) => dayHa[kits[crew % kits.length]!.typeId]!);
  const tenderShare = tenderCount(crews) / crews;
  // One day in seven is each crew's day off, and the front takes most of another.
  return all.reduce((sum, ha) => sum + ha, 0) * tenderShare * days * (days > 2 ? 0.72 : 1);
}

function tenderCount(crews: number): number {
  return crews - Math.floor(crews / 5);
}

function shiftOf(random: Random): { from: string; to: string } {
  return random.weighted([
    [{ from: "05:30", to: "17:30" }, 6],
    [{ from: "05:30", to: "15:30" }, 2],
    [{ from: "11:00", to: "22:30" }, 2],
  ] as const);
}

function crewDraft(random: Random, index: number, kit: CrewKit, baseId: string, request: FleetRequest): CrewDraft {
  const id = `crew-${index + 1}`;
  const pilot = kit.typeId === "stork";
  const dayOff = random.whole(0, 6);
  const shift = shiftOf(random);
  return {
    id,
    name: `${kit.crewName} ${index + 1}`,
    baseId,
    people: [
      {
        id: `${id}-a`,
        name: personName(random),
        licenceClasses: ["general", "restricted"],
        ratings: pilot ? ["stork"] : ["crane-50", "heron-30", "lark-10"],
        aircraftAtOnce: pilot ? 1 : kit.aircraft,
      },
      {
        id: `${id}-b`,
        name: personName(random),
        licenceClasses: ["general"],
        ratings: pilot ? [] : [kit.typeId],
        aircraftAtOnce: pilot ? 1 : kit.aircraft,
      },
    ],
    maxAircraft: kit.aircraft,
    shifts: Array.from({ length: request.days }, (_, day) => day)
      .filter((day) => request.days < 4 || day % 7 !== dayOff)
      .map((day) => ({ date: addDays(request.firstDay, day), ...shift })),
    dutyMaxHoursPerDay: 12,
    dutyMaxHoursPerWeek: 60,
    restMinHours: 10,
    standardHoursPerDay: 8,
    costCentsPerHour: pilot ? 9500 : 5200,
    nightWork: false,
  };
}

export function makeFleet(random: Random, request: FleetRequest): FleetDraft {
  const aircraft: FleetDraft["aircraft"] = [];
  const chargers: NonNullable<FleetDraft["chargers"]> = [];
  const setsByBaseAndType = new Map<string, { baseId: string; aircraftTypeId: string; sets: number }>();
  const crews: CrewDraft[] = [];
  const tenders: FleetDraft["tenders"] = [];
  const tendersInAll = tenderCount(request.crews);

  for (let index = 0; index < request.crews; index++) {
    const kit = kits[index % kits.length]!;
    const baseId = request.bases[index % request.bases.length]!;
    crews.push(crewDraft(random, index, kit, baseId, request));
    for (let number = 0; number < kit.aircraft; number++) {
      aircraft.push({ id: `ac-${aircraft.length + 1}`, typeId: kit.typeId, baseId });
    }
    for (const { bays, kw } of kit.chargers) chargers.push({ id: `charger-${chargers.length + 1}`, baseId, bays, kw });
    if (kit.batterySets > 0) {
      const key = `${baseId}/${kit.typeId}`;
      const stock = setsByBaseAndType.get(key) ?? { baseId, aircraftTypeId: kit.typeId, sets: 0 };
      stock.sets += kit.batterySets;
      setsByBaseAndType.set(key, stock);
    }
    if (tenders.length < tendersInAll) {
      const heavy = kit.typeId === "stork";
      tenders.push({
        id: `tender-${tenders.length + 1}`,
        name: `Tender ${tenders.length + 1}`,
        baseId,
        waterL: heavy ? 6000 : random.pick([2000, 2500, 3000]),
        mixLPerMin: heavy ? 180 : 60,
        pumpLPerMin: heavy ? 240 : 80,
        generatorKw: heavy ? 12 : random.pick([20, 24, 30]),
        transportSlots: heavy ? 4 : 6,
      });
    }
  }
  const used = new Set(aircraft.map(({ typeId }) => typeId));
  return {
    // Every rating names a type, so all types are listed even when the operation owns none of one.
    aircraftTypes: [...aircraftTypes].sort((a, b) => Number(used.has(b.id)) - Number(used.has(a.id))),
    aircraft,
    batteryStocks: [...setsByBaseAndType.values()],
    chargers,
    tenders,
    crews,
  };
}
