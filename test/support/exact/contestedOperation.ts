import { createRandom, type Random } from "../../../services/scenario/generate/random.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { hourlyWeather, smallOperation } from "../operation.ts";
import { contestedFleet, type Roster, rosters } from "./contestedFleet.ts";
import { contestedGround, contestedProducts } from "./contestedGround.ts";

export interface Contested {
  readonly operation: Operation;
  readonly roster: Roster;
}

/**
 * A random operation small enough to be planned as well as can be, and still with most of the rules: two or three crew-days that compete for aircraft, batteries, chargers and
 * tenders, for calm hours and for each other's orders.
 */
export function contestedOperation(seed: number): Contested {
  const random = createRandom(seed, "contested");
  const roster = rosters[seed % rosters.length]!;
  const { fields, orders } = contestedGround(random.topic("ground"), roster);
  const settings = {
    name: `Contested ${seed}: ${roster.name}`,
    days: roster.days,
    bases: [
      {
        id: "B1",
        name: "Yard",
        latDeg: 51,
        lonDeg: 11,
        mainsKw: random.pick([2, 22]),
        fillLPerMin: random.pick([40, 200]),
      },
    ],
    waterPoints: [{ id: "W1", name: "Hydrant", latDeg: 51.03, lonDeg: 11.02, fillLPerMin: random.pick([60, 150]) }],
    roads: { speedKph: random.whole(35, 60) },
    limits: { windAt: "asMeasured" as const },
    costs: { driveCentsPerKm: 90 },
    planning: {
      blockMaxMin: random.whole(40, 60),
      lateCentsPerHaDay: random.whole(1, 8) * 100,
      outfitChangeCents: random.whole(0, 8) * 1000,
    },
  };
  const stations = [
    { stationId: "WEST", latDeg: 51, lonDeg: 10.95 },
    { stationId: "EAST", latDeg: 51, lonDeg: 11.05 },
  ];
  const horizon = { timeZone: "Europe/Berlin", firstDay: "2027-06-07", days: roster.days };
  const operation = smallOperation({
    settings,
    fields: { type: "FeatureCollection", features: fields },
    products: contestedProducts,
    orders,
    fleet: contestedFleet(random.topic("fleet"), roster),
    weather: stations.flatMap((station) => {
      const windOf = gustyHours(random.topic(station.stationId), roster.days);
      return hourlyWeather(horizon, station, (hour) => ({ windKph: windOf[hour] ?? 8, gustKph: 24 }));
    }),
  });
  return { operation, roster };
}

/** Wind by hour: calm but for an hour or two in each morning, so that windows come in twos and threes. */
function gustyHours(random: Random, days: number): number[] {
  return Array.from({ length: 24 * days }, () => 8).map((calm, hour) => {
    const clock = hour % 24;
    return clock >= 6 && clock <= 12 && random.chance(0.22) ? random.pick([16.5, 19.5, 20.5]) : calm;
  });
}
