import psychrolib from "psychrolib";
import { describe, expect, test } from "vitest";
import { deltaTC, pressurePa, wetBulbC } from "../../../shared/agronomy/air.ts";

psychrolib.SetUnitSystem(psychrolib.SI);
const seaLevelPa = 101_325;

describe("wet bulb", () => {
  test("saturated air has the wet bulb of its temperature", () => {
    for (const temperatureC of [-20, 0, 0.5, 20, 45]) {
      expect(wetBulbC(temperatureC, 100, seaLevelPa)).toBeCloseTo(temperatureC, 4);
    }
  });

  // Stull 2011, J. Appl. Meteor. Climatol. 50, 2267, eq. 1: a fit to the saturated adiabat, good to -1..+0.65 degrees;
  // the two definitions differ by up to 0.2 (the example above), which widens the band.
  test("lies within the stated error of Stull's fit", () => {
    expect(stullWetBulbC(20, 50)).toBeCloseTo(13.699, 3);
    for (let temperatureC = 0; temperatureC <= 40; temperatureC += 5) {
      for (let humidityPct = 20; humidityPct <= 95; humidityPct += 5) {
        const difference = stullWetBulbC(temperatureC, humidityPct) - wetBulbC(temperatureC, humidityPct, seaLevelPa);
        expect(difference).toBeGreaterThan(-1.2);
        expect(difference).toBeLessThan(0.85);
      }
    }
  });
});

describe("Delta T", () => {
  test("grows as the air dries and shrinks as the pressure rises", () => {
    for (let humidityPct = 5; humidityPct < 100; humidityPct += 5) {
      expect(deltaTC(25, humidityPct, seaLevelPa)).toBeGreaterThan(deltaTC(25, humidityPct + 5, seaLevelPa));
      expect(deltaTC(25, humidityPct, pressurePa(2000))).toBeGreaterThan(deltaTC(25, humidityPct, seaLevelPa));
    }
  });
});

test("pressure by altitude is psychrolib's, and 1000 m has 89.9 kPa (US Standard Atmosphere 1976)", () => {
  for (const altitudeM of [-400, 0, 500, 2500, 5000]) {
    expect(pressurePa(altitudeM)).toBeCloseTo(psychrolib.GetStandardAtmPressure(altitudeM), 6);
  }
  expect(Math.abs(pressurePa(1000) - 89_875)).toBeLessThan(10);
});

function stullWetBulbC(temperatureC: number, humidityPct: number): number {
  return (
    temperatureC * Math.atan(0.151977 * Math.sqrt(humidityPct + 8.313659)) +
    Math.atan(temperatureC + humidityPct) -
    Math.atan(humidityPct - 1.676331) +
    0.00391838 * humidityPct ** 1.5 * Math.atan(0.023101 * humidityPct) -
    4.686035
  );
}
