import type { Random } from "../../../services/scenario/generate/random.ts";
import type { OperationInput } from "../operation.ts";

type Fleet = OperationInput["fleet"];
type CrewInput = Fleet["crews"][number];

export const dates = ["2027-06-07", "2027-06-08", "2027-06-09"];

/** Who works on which day: by crew, the indices of its days. */
export interface Roster {
  readonly name: string;
  readonly days: number;
  readonly workDays: readonly (readonly number[])[];
}

export const rosters: readonly Roster[] = [
  { name: "two crews, one day", days: 1, workDays: [[0], [0]] },
  { name: "three crews, one day", days: 1, workDays: [[0], [0], [0]] },
  { name: "two crews, one of them a second day", days: 2, workDays: [[0, 1], [1]] },
  { name: "one crew, three days", days: 3, workDays: [[0, 1, 2]] },
  { name: "one crew, two days", days: 2, workDays: [[0, 1]] },
  { name: "two crews in turn, three days", days: 3, workDays: [[0, 2], [1]] },
];

/** Licence class that only the first crew holds. */
export const ownLicence = "own";

/** Fewer aircraft, tenders, chargers and sets than the crews could do with, all at one base. */
export function contestedFleet(random: Random, { workDays }: Roster): Fleet {
  const crews = workDays.length;
  const smalls = Math.max(2, crews);
  const tenders = random.chance(0.5) ? crews : Math.max(2, crews);
  return {
    aircraftTypes: aircraftTypes(random),
    aircraft: [
      ...Array.from({ length: smalls }, (_, n) => ({
        id: `A${n + 1}`,
        typeId: "SMALL",
        baseId: "B1",
        ...(n === 1 && random.chance(0.2) ? { outOfService: [{ from: dates[1]!, to: dates[1]! }] } : {}),
      })),
      { id: "H1", typeId: "HELI", baseId: "B1" },
    ],
    batteryStocks: [{ baseId: "B1", aircraftTypeId: "SMALL", sets: random.whole(smalls + 1, 2 * smalls + 2) }],
    chargers: [
      { id: "C1", baseId: "B1", bays: 2, kw: 18 },
      ...(crews > 1 || random.chance(0.3) ? [{ id: "C2", baseId: "B1", bays: random.whole(1, 2), kw: 18 }] : []),
    ],
    tenders: Array.from({ length: tenders }, (_, n) => ({
      id: `T${n + 1}`,
      name: `Tender ${n + 1}`,
      baseId: "B1",
      waterL: random.pick([350, 450, 900]),
      mixLPerMin: 60,
      pumpLPerMin: n === 0 ? 60 : random.pick([60, 90]),
      generatorKw: random.pick([10, 20]),
      transportSlots: random.weighted([
        [1, 1],
        [2, 3],
      ] as const),
    })),
    crews: workDays.map((days, crew) => contestedCrew(random, crew, days)),
  };
}

function contestedCrew(random: Random, crew: number, days: readonly number[]): CrewInput {
  const [from, to] = random.pick([
    ["04:30", "09:30"],
    ["05:00", "10:30"],
    ["05:30", "11:30"],
    ["06:00", "12:00"],
  ]);
  // A crew that is back in the last minutes of its shift may have to begin later on the next day.
  const restMinHours = days.length > 1 && random.chance(0.5) ? minutesBetween(to, from) / 60 + 0.05 : 10;
  const pilot = random.chance(0.7);
  return {
    id: `K${crew + 1}`,
    name: `Crew ${crew + 1}`,
    baseId: "B1",
    people: [
      {
        id: `N${crew + 1}`,
        name: `Person ${crew + 1}`,
        licenceClasses: ["agri", ...(crew === 0 ? [ownLicence] : []), ...(random.chance(0.8) ? ["baits"] : [])],
        ratings: pilot ? ["SMALL", "HELI"] : ["SMALL"],
        aircraftAtOnce: random.weighted([
          [1, 1],
          [2, 3],
        ] as const),
      },
    ],
    maxAircraft: 2,
    shifts: days.map((day) => ({ date: dates[day]!, from, to })),
    dutyMaxHoursPerDay: random.pick([5, 5.5, 8]),
    dutyMaxHoursPerWeek: days.length > 1 && random.chance(0.5) ? 4 * days.length : 40,
    restMinHours,
    standardHoursPerDay: random.whole(3, 5),
    costCentsPerHour: random.whole(40, 80) * 100,
    nightWork: random.chance(0.2),
  };
}

/** From an evening to the next morning. */
function minutesBetween(evening: string, morning: string): number {
  const minuteOf = (clock: string) => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
  return minuteOf(morning) + 24 * 60 - minuteOf(evening);
}

function aircraftTypes(random: Random): Fleet["aircraftTypes"] {
  const power = {
    source: "battery",
    enduranceMin: 12,
    reserveFrac: 0.2,
    swapS: 60,
    chargeMin: random.whole(20, 50),
    chargeKw: 9,
  } as const;
  return [
    {
      id: "SMALL",
      name: "Small multirotor",
      kind: "multirotor",
      liquid: {
        tankL: 30,
        swathM: 8,
        speedMinMps: 2,
        speedMaxMps: 7,
        flowMaxLPerMin: 10,
        dropletMinUm: 110,
        dropletMaxUm: 400,
      },
      granular: { hopperKg: 40, hopperL: 60, swathM: 6, speedMinMps: 2, speedMaxMps: 7, spreadMaxKgPerMin: 40 },
      payloadKg: 45,
      ferrySpeedMps: 12,
      turnS: 8,
      takeoffLandingS: 40,
      loadS: 40,
      power,
      windMaxKph: 22,
      gustMaxKph: 32,
      slopeMaxPct: 25,
      releaseHeightM: 3,
      transportSlots: 1,
      methodChangeMin: 15,
      calibrationMin: 5,
      setupMin: 8,
      packupMin: 6,
      runningCentsPerHour: 900,
    },
    {
      id: "HELI",
      name: "Light helicopter",
      kind: "helicopter",
      liquid: {
        tankL: 120,
        swathM: 12,
        speedMinMps: 6,
        speedMaxMps: 16,
        flowMaxLPerMin: 40,
        dropletMinUm: 150,
        dropletMaxUm: 600,
      },
      payloadKg: 150,
      ferrySpeedMps: 25,
      turnS: 25,
      takeoffLandingS: 60,
      loadS: 60,
      power: { source: "fuel", enduranceMin: 45, reserveFrac: 0.2, refuelS: 300 },
      windMaxKph: 30,
      gustMaxKph: 40,
      slopeMaxPct: 60,
      releaseHeightM: 6,
      transportSlots: 0,
      methodChangeMin: 30,
      calibrationMin: 3,
      setupMin: 6,
      packupMin: 5,
      nightCapable: true,
      runningCentsPerHour: random.whole(150, 300) * 100,
    },
  ];
}
