import { describe, expect, it } from "vitest";
import { byDay, closingLimits } from "../../../../services/web/app/week/chosen/orderHours.ts";
import { isHeld, kindsOf } from "../../../../services/web/app/week/locks.ts";
import { blockNamesOf, withFieldNames } from "../../../../services/web/app/week/moves/fieldNames.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { withClock } from "../../../../shared/agronomy/clockSpan.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { lockSchema } from "../../../../shared/model/locks.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { weekView } from "../../../../shared/plan/weekView.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";

function hoursOf(operation = richOperation()) {
  const calendar = createCalendar(operation.settings);
  const [order] = operation.orders;
  const [type] = operation.fleet.aircraftTypes;
  const hours = createAgronomy(operation, calendar).hours(order!, type!, { night: false });
  return hours.map((hour) => withClock(calendar, { ...hour, judgements: [...hour.judgements] }));
}

describe("an order's hours", () => {
  it("stand on the days whose clocks they have, also where an hour is left out", () => {
    const days = byDay(hoursOf(viewOperation()));
    expect(days.map(({ date, hours }) => [date, hours.length])).toEqual([
      ["2027-03-26", 24],
      ["2027-03-27", 24],
      ["2027-03-28", 23],
    ]);
    expect(days[2]!.hours[2]!.clock).toBe("03:00");
    expect(days[2]!.hours[1]!.endClock).toBe("03:00");
    const rich = hoursOf();
    expect(byDay(rich).reduce((sum, { openMin }) => sum + openMin, 0)).toBe(
      rich.reduce((sum, { openMin }) => sum + openMin, 0),
    );
  });

  it("tell of each limit which hours it closes and where it is worst", () => {
    const wind = (actual: number) => ({
      limit: "wind" as const,
      actual,
      allowed: 20,
      unit: "km/h",
      sentence: `wind ${actual} km/h, label allows 20`,
    });
    const rain = { limit: "rain" as const, actual: "rain", allowed: "none", unit: "", sentence: "it rains" };
    const hour = (at: number, judgements: readonly (ReturnType<typeof wind> | typeof rain)[]) => ({
      clock: `0${at}:00`,
      endClock: `0${at + 1}:00`,
      openMin: judgements.length === 0 ? 60 : 0,
      ofMin: 60,
      judgements,
    });
    const hours = [hour(0, []), hour(1, [wind(22)]), hour(2, [wind(31), rain]), hour(3, []), hour(4, [wind(25)])];
    expect(closingLimits({ hours })).toEqual([
      {
        limit: "wind",
        closes: [false, true, true, false, true],
        spans: [
          { from: "01:00", to: "03:00" },
          { from: "04:00", to: "05:00" },
        ],
        worst: { clock: "02:00", sentence: "wind 31 km/h, label allows 20", hasFigures: true },
      },
      {
        limit: "rain",
        closes: [false, false, true, false, false],
        spans: [{ from: "02:00", to: "03:00" }],
        worst: { clock: "02:00", sentence: "it rains", hasFigures: false },
      },
    ]);
    expect(closingLimits({ hours: [hour(0, [])] })).toEqual([]);
  });
});

describe("sentences of the server", () => {
  it("name fields where the planner names blocks", () => {
    const operation = viewOperation();
    const plan = viewPlan(operation);
    const names = blockNamesOf(weekView(operation, plan, checkPlan(operation, plan)));
    const [block] = plan.blocks;
    const field = operation.fields.features.find(
      ({ properties }) => properties.id === operation.orders.find(({ id }) => id === block!.orderId)!.fieldId,
    )!.properties.name;
    const told = withFieldNames(`It does not fit after ${block!.id}, nor after other-9#3.`, names);
    expect(told).toContain(`after ${field}`);
    expect(told).not.toContain(block!.id);
    expect(told).toContain("other-9#3");
    // Of two parts the one that is left out.
    const [left] = plan.conflicts;
    expect(withFieldNames(`${left!.blockIds[0]} goes there.`, names)).toMatch(/ \(part 2 of 2\) goes there\.$/);
  });
});

describe("what is locked of a day", () => {
  const lock = (more: object) => lockSchema.parse({ crewId: "crew-1", date: "2027-06-14", ...more });

  it("is told by the most that can be said of it", () => {
    expect(kindsOf(lock({ nothingElse: true, stops: [{ orderId: "O-1" }], outfit: {} }))).toEqual(["asItStands"]);
    expect(kindsOf(lock({ stops: [{ orderId: "O-1" }], outfit: {} }))).toEqual(["stops", "outfit"]);
    expect(kindsOf(lock({}))).toEqual([]);
  });

  it("holds an order, or the part of it that it names", () => {
    const held = lock({ stops: [{ orderId: "O-1" }, { orderId: "O-2", part: 2, parts: 2 }] });
    expect(isHeld(held, { orderId: "O-1", part: 3 })).toBe(true);
    expect(isHeld(held, { orderId: "O-2", part: 2 })).toBe(true);
    expect(isHeld(held, { orderId: "O-2", part: 1 })).toBe(false);
    expect(isHeld(null, { orderId: "O-1", part: 1 })).toBe(false);
  });
});
