import { describe, expect, it } from "vitest";
import { deadlineWords, shortDayWords, shortDayWordsWithYear } from "../../../../services/web/app/kit/dates.ts";

// 14 June 2027 is a Monday (ISO 8601: day 1 of its week 24).
describe("days in words", () => {
  it("have no comma, and their clock behind them where they have one", () => {
    expect(shortDayWords("2027-06-14")).toBe("Mon 14 Jun");
    expect(shortDayWords("2027-06-14T05:30")).toBe("Mon 14 Jun 05:30");
    expect(shortDayWordsWithYear("2027-06-14T05:30:00")).toBe("Mon 14 Jun 2027 05:30");
    expect(shortDayWords("soon")).toBe("soon");
  });

  it("end a day where a deadline is its midnight", () => {
    expect(deadlineWords("2027-06-16T00:00")).toBe("end of Tue 15 Jun");
    expect(deadlineWords("2027-03-01T00:00")).toBe("end of Sun 28 Feb");
    expect(deadlineWords("2027-06-16T00:30")).toBe("Wed 16 Jun 00:30");
    expect(deadlineWords("2027-06-16")).toBe("Wed 16 Jun");
    expect(deadlineWords("2027-13-16T00:00")).toBe("2027-13-16T00:00");
  });
});
