import { describe, expect, it } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { calmHours } from "../../../shared/cases/calmHours.ts";
import { onlyToKnow } from "../../../shared/cases/units.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { calendarOf, hourlyWeather, smallOperation, smallStation } from "../../support/operation.ts";

const settings = { timeZone: "Europe/Berlin", firstDay: "2027-06-07", days: 3 };
/** From six on a wind that neither product allows, but at night and, on the second day, from nine to ten a wind that the granules stand. */
const operation = smallOperation({
  weather: hourlyWeather(settings, smallStation, (hour) => {
    if (hour % 24 < 6) return {};
    return hour === 24 + 9 ? { windKph: 18, gustKph: 20 } : { windKph: hour === 14 ? 27 : 26, gustKph: 29 };
  }),
});
const agronomyOf = (of: Operation) => createAgronomy(of, calendarOf(of));

describe("a calm hour more", () => {
  it("is the hour of a day in which the wind alone stops most, and opens it", () => {
    const units = calmHours(operation, agronomyOf(operation));
    expect(units.map(({ date }) => date)).toEqual(["2027-06-07", "2027-06-08", "2027-06-09"]);
    expect(units[0]!.words).toBe("a wind of 8 km/h on Mon 7 June from 06:00 to 07:00");
    expect(onlyToKnow.has(units[0]!.kind)).toBe(true);
    const outcome = applyChanges(operation, units[0]!.changes);
    if (!outcome.ok) throw new Error("it cannot be had");
    const [order] = operation.orders;
    const [type] = operation.fleet.aircraftTypes;
    const openMin = (of: Operation) =>
      agronomyOf(of)
        .windows(order!, type!, { night: false })
        .windows.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0);
    expect(openMin(outcome.operation) - openMin(operation)).toBe(60);
  });

  it("is none where the wind stops nothing", () => {
    const still = smallOperation({});
    expect(calmHours(still, agronomyOf(still))).toEqual([]);
  });
});
