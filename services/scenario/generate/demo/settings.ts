import type { SettingsDraft } from "../draft.ts";
import { home, type Land, makeWaterPoints, yardPosition } from "../land.ts";
import type { Random } from "../random.ts";

export const demoFirstDay = "2027-06-14";
export const demoDays = 7;

export function demoSettings(random: Random, land: Land): SettingsDraft {
  const waterNames = ["Weir at the long bend", "Hydrant of the Seven Stones", "Fuente de la Liñana", "Canal sluice"];
  return {
    formatVersion: 1,
    name: "A week in the Lunera valley",
    timeZone: home.timeZone,
    firstDay: demoFirstDay,
    days: demoDays,
    forecastIssued: "2027-06-13T18:00",
    altitudeM: home.altitudeM,
    currency: "EUR",
    bases: [
      {
        id: "west",
        name: "Molino Viejo, west yard",
        ...yardPosition(land, random, 0.27, 1),
        mainsKw: 44,
        fillLPerMin: 250,
      },
      {
        id: "east",
        name: "Aeródromo de la Liñana, east yard",
        ...yardPosition(land, random, 0.72, -1),
        mainsKw: 60,
        fillLPerMin: 400,
      },
    ],
    waterPoints: makeWaterPoints(land, random).map((point, index) => ({
      ...point,
      name: waterNames[index] ?? point.name,
    })),
    roads: { circuityFactor: 1.35, speedKph: 48 },
    costs: { driveCentsPerKm: 95, overtimeFactor: 1.5 },
    limits: { gustMaxKph: 40 },
  };
}
