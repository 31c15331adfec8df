import psychrolib from "psychrolib";
import { describe, expect, test } from "vitest";
import { deltaTC, pressurePa, saturationVapourPressurePa, wetBulbC } from "../../../shared/agronomy/air.ts";
import { seededRandom } from "../../support/seededRandom.ts";

psychrolib.SetUnitSystem(psychrolib.SI);
const seaLevelPa = 101_325;

describe("wet bulb", () => {
  // Read off a chart there, to the tenth; the equations give 9.37.
  test("15 C with dew point 4 C at 1000 hPa is 9.3 C (Wallace & Hobbs 1977, p. 106)", () => {
    const humidityPct = (100 * saturationVapourPressurePa(4)) / saturationVapourPressurePa(15);
    expect(Math.abs(wetBulbC(15, humidityPct, 100_000) - 9.3)).toBeLessThan(0.1);
  });

  // That program follows the saturated adiabat (Stipanuk 1973), the equations the psychrometer: 30.28, as psychrolib.
  test("40 C and 50 % at 1000 hPa is 30.45 C (NCAR Command Language, wetbulb examples)", () => {
    expect(Math.abs(wetBulbC(40, 50, 100_000) - 30.45)).toBeLessThan(0.2);
  });

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
  // Computed with psychrolib 1.1.1 at 101325 Pa.
  test.each([
    [20, 50, 6.22],
    [30, 30, 12.03],
    [10, 90, 0.84],
  ])("%d C and %d %% is %d", (temperatureC, humidityPct, expectedC) => {
    expect(Math.abs(deltaTC(temperatureC, humidityPct, seaLevelPa) - expectedC)).toBeLessThan(0.005);
  });

  // psychrolib stops its own search at 0.001 degrees; achieved here: mean 0.0002, largest 0.0005.
  test("agrees with psychrolib over 5000 random airs at random altitudes", () => {
    const random = seededRandom(1);
    let sumC = 0;
    let largestC = 0;
    const count = 5000;
    for (let i = 0; i < count; i++) {
      const temperatureC = -5 + 50 * random();
      const humidityPct = 3 + 97 * random();
      const airPressurePa = pressurePa(-100 + 3600 * random());
      const judgedC = temperatureC - psychrolib.GetTWetBulbFromRelHum(temperatureC, humidityPct / 100, airPressurePa);
      const errorC = Math.abs(deltaTC(temperatureC, humidityPct, airPressurePa) - judgedC);
      sumC += errorC;
      largestC = Math.max(largestC, errorC);
    }
    console.log(`Delta T against psychrolib: mean ${(sumC / count).toFixed(5)} C, largest ${largestC.toFixed(5)} C`);
    expect(largestC).toBeLessThan(0.001);
  });

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
