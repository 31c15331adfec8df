import { Body, Observer, SearchRiseSet } from "astronomy-engine";
import { describe, expect, test } from "vitest";
import { exactSunDay } from "../../../shared/agronomy/sun.ts";
import { randomPlace, sunCalendar, sunErrorsS } from "../../support/judges.ts";
import { seededRandom } from "../../support/seededRandom.ts";

describe("sunrise and sunset near the poles against astronomy-engine", () => {
  test("days without a sunset or a sunrise from 64 to 90 degrees, and the times of the others", () => {
    const random = seededRandom(6);
    const counted = { above: 0, below: 0, crosses: 0 };
    let largestS = 0;
    for (let i = 0; i < 1500; i++) {
      const place = randomPlace(random, 64, 89.9);
      const { horizon } = exactSunDay(sunCalendar, place.date, place.latDeg, place.lonDeg);
      const observer = new Observer(place.latDeg, place.lonDeg, 0);
      const noonMin = sunCalendar.minOfDate(place.date) + 720 - 4 * place.lonDeg;
      const noon = new Date(sunCalendar.epochMsOfMin(noonMin));
      // Ten hours about noon: nearer to midnight the day is at an edge, on which seconds of height decide.
      const tenHours = 10 / 24;
      if (horizon.kind === "above") expect(SearchRiseSet(Body.Sun, observer, -1, noon, tenHours)).toBeNull();
      if (horizon.kind === "below") expect(SearchRiseSet(Body.Sun, observer, 1, noon, -tenHours)).toBeNull();
      // On days shorter or longer than these, and next to the poles, the sun crosses the horizon almost along it.
      const dayMin = horizon.kind === "crosses" ? horizon.downMin - horizon.upMin : 0;
      if (dayMin > 120 && dayMin < 1320 && Math.abs(place.latDeg) < 85)
        largestS = Math.max(largestS, ...sunErrorsS(place).slice(0, 2));
      counted[horizon.kind]++;
    }
    console.log(`sun at high latitude: ${JSON.stringify(counted)}, largest error ${largestS.toFixed(1)} s`);
    expect(Math.min(...Object.values(counted))).toBeGreaterThan(200);
    expect(largestS).toBeLessThan(60);
  });
});
