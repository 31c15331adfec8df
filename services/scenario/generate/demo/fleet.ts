import { addDays } from "../../../../shared/model/calendar.ts";
import { aircraftTypes } from "../aircraftTypes.ts";
import type { CrewDraft, FleetDraft } from "../draft.ts";
import { demoFirstDay } from "./settings.ts";

/** Shifts of one crew: the same hours on the days given (0 is the first day). */
function shiftsOn(days: readonly number[], from: string, to: string): CrewDraft["shifts"] {
  return days.map((day) => ({ date: addDays(demoFirstDay, day), from, to }));
}

/**
 * Five crews from two yards share four tenders, so one crew waits every day. In the west two aircraft of one crew and the
 * small ones compete for chargers and for the generator of the older tender, which runs one large charger bay at a time.
 */
export function demoFleet(): FleetDraft {
  return {
    aircraftTypes: [...aircraftTypes],
    aircraft: [
      { id: "crane-1", typeId: "crane-50", baseId: "west" },
      {
        id: "crane-2",
        typeId: "crane-50",
        baseId: "west",
        outOfService: [{ from: addDays(demoFirstDay, 4), to: addDays(demoFirstDay, 4) }],
      },
      { id: "heron-1", typeId: "heron-30", baseId: "west" },
      { id: "heron-2", typeId: "heron-30", baseId: "west" },
      { id: "lark-1", typeId: "lark-10", baseId: "west" },
      { id: "lark-2", typeId: "lark-10", baseId: "west" },
      { id: "lark-3", typeId: "lark-10", baseId: "west" },
      {
        id: "stork-1",
        typeId: "stork",
        baseId: "east",
        outOfService: [{ from: addDays(demoFirstDay, 5), to: addDays(demoFirstDay, 6) }],
      },
      { id: "crane-3", typeId: "crane-50", baseId: "east" },
      { id: "crane-4", typeId: "crane-50", baseId: "east" },
    ],
    batteryStocks: [
      { baseId: "west", aircraftTypeId: "crane-50", sets: 7 },
      { baseId: "west", aircraftTypeId: "heron-30", sets: 6 },
      { baseId: "west", aircraftTypeId: "lark-10", sets: 10 },
      { baseId: "east", aircraftTypeId: "crane-50", sets: 6 },
    ],
    chargers: [
      { id: "charger-w1", baseId: "west", bays: 2, kw: 18 },
      { id: "charger-w2", baseId: "west", bays: 2, kw: 14 },
      { id: "charger-w3", baseId: "west", bays: 4, kw: 10 },
      { id: "charger-e1", baseId: "east", bays: 2, kw: 18 },
    ],
    tenders: [
      {
        id: "tender-1",
        name: "Big Bartolo",
        baseId: "west",
        waterL: 3000,
        mixLPerMin: 60,
        pumpLPerMin: 90,
        loadingPoints: 2,
        generatorKw: 24,
        transportSlots: 6,
      },
      {
        id: "tender-2",
        name: "Old Bartolo",
        baseId: "west",
        waterL: 1800,
        mixLPerMin: 45,
        pumpLPerMin: 60,
        generatorKw: 16,
        transportSlots: 6,
      },
      {
        id: "tender-3",
        name: "The Cistern",
        baseId: "east",
        waterL: 6000,
        mixLPerMin: 180,
        pumpLPerMin: 260,
        generatorKw: 12,
        transportSlots: 2,
      },
      {
        id: "tender-4",
        name: "Liñana truck",
        baseId: "east",
        waterL: 2500,
        mixLPerMin: 60,
        pumpLPerMin: 80,
        generatorKw: 20,
        transportSlots: 6,
      },
    ],
    crews: [...westCrews(), ...eastCrews()],
    hire: [
      { kind: "tender", like: "tender-2", baseIds: ["west", "east"], hireCents: 16500, per: "day" },
      {
        kind: "aircraft",
        typeId: "crane-50",
        batterySets: 2,
        baseIds: ["west", "east"],
        hireCents: 98000,
        per: "week",
      },
      { kind: "batterySets", typeId: "crane-50", baseIds: ["west", "east"], most: 4, hireCents: 12000, per: "week" },
      { kind: "charger", bays: 2, kw: 18, baseIds: ["west", "east"], most: 2, hireCents: 3500, per: "day" },
    ],
  };
}

const duty = { restMinHours: 10, standardHoursPerDay: 8 };

function westCrews(): CrewDraft[] {
  return [
    {
      id: "crew-1",
      name: "West large",
      baseId: "west",
      people: [
        {
          id: "alda",
          name: "Alda Roquetalta",
          licenceClasses: ["general", "restricted"],
          ratings: ["crane-50", "heron-30"],
          aircraftAtOnce: 2,
        },
        { id: "ivo", name: "Ivo Sabuquel", licenceClasses: ["general"], ratings: ["crane-50"] },
      ],
      maxAircraft: 2,
      shifts: shiftsOn([0, 1, 2, 3, 4, 5], "05:30", "17:30"),
      dutyMaxHoursPerDay: 11,
      dutyMaxHoursPerWeek: 52,
      ...duty,
      costCentsPerHour: 5600,
    },
    {
      id: "crew-2",
      name: "West evening",
      baseId: "west",
      people: [
        {
          id: "daria",
          name: "Dária Lanzuela-Ordavés",
          licenceClasses: ["general"],
          ratings: ["heron-30", "lark-10"],
          aircraftAtOnce: 2,
        },
        { id: "sonke", name: "Sönke Dorvall", licenceClasses: ["general"], ratings: ["heron-30"] },
      ],
      maxAircraft: 2,
      shifts: shiftsOn([0, 1, 3, 4, 5], "15:00", "01:30"),
      dutyMaxHoursPerDay: 10,
      dutyMaxHoursPerWeek: 45,
      ...duty,
      costCentsPerHour: 5900,
      nightWork: true,
    },
    {
      id: "crew-3",
      name: "West small fields",
      baseId: "west",
      people: [
        {
          id: "nuria",
          name: "Núria Peñalbeda i Olivastre de la Vall",
          licenceClasses: ["general", "restricted"],
          ratings: ["lark-10", "heron-30"],
          aircraftAtOnce: 3,
        },
        { id: "koldo", name: "Koldo Iribel", licenceClasses: ["general"], ratings: ["lark-10"], aircraftAtOnce: 2 },
      ],
      maxAircraft: 3,
      shifts: shiftsOn([0, 1, 2, 3, 4], "06:00", "14:30"),
      dutyMaxHoursPerDay: 8.5,
      dutyMaxHoursPerWeek: 40,
      ...duty,
      costCentsPerHour: 4800,
    },
  ];
}

function eastCrews(): CrewDraft[] {
  return [
    {
      id: "crew-4",
      name: "East helicopter",
      baseId: "east",
      people: [
        {
          id: "vera",
          name: "Vera Navascor",
          licenceClasses: ["general", "restricted"],
          ratings: ["stork"],
        },
        { id: "quim", name: "Quim Zorraquil", licenceClasses: ["general"] },
      ],
      maxAircraft: 1,
      shifts: shiftsOn([0, 1, 2, 3, 4, 5], "06:00", "20:30"),
      dutyMaxHoursPerDay: 9,
      dutyMaxHoursPerWeek: 38,
      ...duty,
      restMinHours: 12,
      costCentsPerHour: 9800,
    },
    {
      id: "crew-5",
      name: "East large",
      baseId: "east",
      people: [
        {
          id: "helia",
          name: "Hélia Tresmoral",
          licenceClasses: ["general", "restricted"],
          ratings: ["crane-50", "lark-10"],
        },
        { id: "tarik", name: "Tàrik Belmirón", licenceClasses: ["general"], ratings: ["crane-50"] },
      ],
      maxAircraft: 2,
      shifts: shiftsOn([0, 1, 2, 3, 4, 5, 6], "06:00", "18:00"),
      dutyMaxHoursPerDay: 11,
      dutyMaxHoursPerWeek: 50,
      ...duty,
      costCentsPerHour: 5400,
    },
  ];
}
