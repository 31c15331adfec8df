import { expect, test } from "vitest";
import { calendarOf, smallOperation } from "../../support/operation.ts";

test("the small operation is a valid one, and overridden settings move its weather along", () => {
  expect(smallOperation({}).orders).toHaveLength(2);
  const moved = smallOperation({ settings: { timeZone: "Australia/Adelaide", firstDay: "2027-10-02", days: 2 } });
  expect(moved.weather[0]?.start).toBe("2027-10-02T00:00:00+09:30");
  // The night of 3 October 2027 is an hour short there.
  expect(calendarOf(moved).horizonMin).toBe(2880 - 60);
});
