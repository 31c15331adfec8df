import { describe, expect, it } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { OrderWindows } from "../../../shared/contracts/windows.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { type Situation, situationOf } from "../../shared/agronomy/oneOrder.ts";
import { richOperation } from "../../support/richOperation.ts";
import { serveApi } from "./serveApi.ts";

const { get, importOperation } = serveApi();

describe("windows", () => {
  it("tell for every hour of the horizon how much of it is open, and why not the rest", async () => {
    const operation = richOperation();
    const { id } = (await importOperation(operation)).body.operation;
    const order = operation.orders[0]!;
    for (const type of operation.fleet.aircraftTypes) {
      const path = `/api/operations/${id}/orders/${order.id}/windows?type=${type.id}`;
      const { body } = await get<OrderWindows>(path);
      expect(body).toMatchObject({ orderId: order.id, aircraftTypeId: type.id, night: "no" });
      expect(body.hours).toHaveLength(24 * operation.settings.days);
      const openMin = body.hours.reduce((sum, hour) => sum + hour.openMin, 0);
      expect(openMin).toBe(body.windows.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0));
      for (const hour of body.hours) expect(hour.openMin === 60 || hour.judgements.length > 0).toBe(true);
    }
    const unknown = await get<Problem>(`/api/operations/${id}/orders/${order.id}/windows?type=nothing`);
    expect(unknown.status).toBe(404);
  });

  it("tell of every hour its risk of an inversion and how far the forecast is trusted", async () => {
    const operation = richOperation();
    const { id } = (await importOperation(operation)).body.operation;
    const [order] = operation.orders;
    const [type] = operation.fleet.aircraftTypes;
    const { body } = await get<OrderWindows>(`/api/operations/${id}/orders/${order!.id}/windows?type=${type!.id}`);
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    const told = agronomy.hours(order!, type!, { night: false });
    expect(body.hours.map(({ inversionRisk }) => inversionRisk)).toEqual(
      told.map(({ inversionRisk }) => inversionRisk),
    );
    expect(body.hours.map(({ judgements }) => judgements)).toEqual(told.map(({ judgements }) => judgements));
    const trust = body.hours.map(({ confidenceFrac }) => confidenceFrac);
    expect(trust).toEqual(trust.toSorted((a, b) => b - a));
    expect(trust[0]).toBeGreaterThan(trust.at(-1)!);
    expect(body.answer).toBeNull();
    expect(body.parts.map(({ part }) => part)).toEqual(agronomy.parts(order!).map(({ part }) => part));
  });

  it("answer why a time is open or not, as the agronomy does, and refuse a time outside the plan", async () => {
    const operation = richOperation();
    const { id } = (await importOperation(operation)).body.operation;
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    const answers: boolean[] = [];
    for (const order of operation.orders.slice(0, 3)) {
      for (const type of operation.fleet.aircraftTypes) {
        const path = `/api/operations/${id}/orders/${order.id}/windows?type=${type.id}`;
        for (const { part } of agronomy.parts(order)) {
          for (const clock of ["01:00", "10:30"]) {
            const at = `${operation.settings.firstDay}T${clock}`;
            const { body } = await get<OrderWindows>(`${path}&part=${part}&at=${at}`);
            const min = calendar.minOfLocal(at);
            const night = { night: false, ...(part === "rest" ? { rest: true as const } : {}) };
            expect(body.part).toBe(part);
            expect(body.answer).toMatchObject({ min, sentence: agronomy.why(order, type, min, night) });
            const inWindow = body.windows.some(({ startMin, endMin }) => startMin <= min && min < endMin);
            expect(body.answer!.open).toBe(body.limits.length === 0 && inWindow);
            expect(body.answer!.judgements.length === 0).toBe(inWindow);
            answers.push(body.answer!.open);
          }
        }
        const outside = await get<Problem>(`${path}&at=2040-01-01T09:00`);
        expect(outside).toMatchObject({ status: 422, body: { faults: [{ path: ["at"] }] } });
        expect((await get<Problem>(`${path}&at=noon`)).status).toBe(400);
      }
    }
    expect(new Set(answers)).toEqual(new Set([true, false]));
  });

  // Clocks in Berlin go forward on 28 March 2027 from 02:00 to 03:00 and back on 31 October from 03:00 to 02:00 (IANA time zone database).
  it("answer a time that the clocks show twice for both times, and refuse one that they skip", async () => {
    const answered = async (firstDay: string) => {
      const operation = situationOf({ firstDay, days: 1, airOfHour: (hour) => ({ rainMm: hour === 2 ? 1 : 0 }) });
      const crews = operation.fleet.crews.map((crew) => ({ ...crew, shifts: [] }));
      const { id } = (await importOperation({ ...operation, fleet: { ...operation.fleet, crews } })).body.operation;
      return `/api/operations/${id}/orders/O-1/windows?type=HELI&night=yes&at=${firstDay}T02:30`;
    };
    const { body } = await get<OrderWindows>(await answered("2027-10-31"));
    expect(body).toMatchObject({
      answer: { at: "2027-10-31T02:30:00+02:00", min: 150, open: false, judgements: [{ limit: "rain" }] },
      alsoAt: { at: "2027-10-31T02:30:00+01:00", min: 210, open: true, judgements: [] },
    });
    expect(body.answer!.sentence).toContain("02:30 (first time): no");
    expect(body.alsoAt!.sentence).toContain("02:30 (second time): yes");

    const skipped = await get<Problem>(await answered("2027-03-28"));
    const expected = "a time that the clocks of Europe/Berlin show; they are put forward over 2027-03-28T02:30";
    expect(skipped).toMatchObject({
      status: 422,
      body: { faults: [{ path: ["at"], value: "2027-03-28T02:30", expected }] },
    });
    const plain = await get<OrderWindows>((await answered("2027-06-07")).replace("02:30", "09:00"));
    expect(plain.body).toMatchObject({ answer: { open: true }, alsoAt: null });
  });

  it("have no minute where buffers leave nothing or the rate cannot be flown", async () => {
    const nothingLeft: Situation = {
      labels: [{ buffers: [{ kind: "school", distanceM: 900 }] }],
      sensitive: [
        {
          type: "Feature",
          geometry: { type: "Point", coordinates: [11.046, 51.011] },
          properties: { id: "S1", kind: "school", name: "School" },
        },
      ],
    };
    const tooMuch: Situation = { order: { carrierLPerHa: 2000 } };
    for (const [limit, situation, parts] of [
      ["buffers", nothingLeft, []],
      ["rate", tooMuch, [expect.objectContaining({ part: "whole" })]],
    ] as const) {
      const { id } = (await importOperation(situationOf(situation))).body.operation;
      const path = `/api/operations/${id}/orders/O-1/windows?type=SMALL&at=2027-06-07T09:00`;
      const { body } = await get<OrderWindows>(path);
      expect(body).toMatchObject({ parts, limits: [{ limit }], windows: [] });
      expect(body.answer).toMatchObject({ open: false, judgements: [{ limit }] });
      expect(body.answer!.sentence).toContain("no, nor at any other time");
      for (const { openMin, judgements } of body.hours) expect([openMin, judgements[0]!.limit]).toEqual([0, limit]);
    }
  });

  // Hives at a corner of the field, by which the wind of some hours spares a part.
  const hives: Situation = {
    labels: [{ buffers: [{ kind: "apiary", distanceM: 100, downwindOnly: true, downwindRule: "sparesPart" }] }],
    sensitive: [
      {
        type: "Feature",
        geometry: { type: "Point", coordinates: [11.046, 51.011] },
        properties: { id: "S1", kind: "apiary", name: "Hives" },
      },
    ],
    airOfHour: (hour) => ({ windFromDeg: hour % 24 < 12 ? 90 : 270 }),
  };

  it("are those of the part that is asked for, else of the near part or of the whole, by one name everywhere", async () => {
    const askFor = async (situation: Situation) => {
      const { id } = (await importOperation(situationOf(situation))).body.operation;
      const path = `/api/operations/${id}/orders/O-1/windows?type=HELI`;
      const of = async (part: string) => (await get<OrderWindows>(`${path}&part=${part}`)).body;
      const refused = async (part: string) => await get<Problem>(`${path}&part=${part}`);
      return { any: (await get<OrderWindows>(path)).body, of, refused };
    };
    const parted = await askFor(hives);
    expect(parted.any.parts.map(({ part }) => part)).toEqual(["near", "rest"]);
    expect(parted.any.part).toBe("near");
    expect(await parted.of("near")).toEqual(parted.any);
    const rest = await parted.of("rest");
    expect(rest.part).toBe("rest");
    expect(parted.any.lostMin.driftNear).toBeGreaterThan(0);
    expect(rest.lostMin.driftNear).toBeUndefined();
    expect(await parted.refused("whole")).toMatchObject({
      status: 422,
      body: { faults: [{ path: ["part"], value: "whole", expected: "a part of this order: near or rest" }] },
    });

    const whole = await askFor({});
    expect(whole.any.part).toBe("whole");
    expect(await whole.of("whole")).toEqual(whole.any);
    expect(await whole.refused("rest")).toMatchObject({
      status: 422,
      body: { faults: [{ path: ["part"], value: "rest", expected: "a part of this order: whole" }] },
    });
    expect((await whole.refused("strictest")).status).toBe(400);
  });
});
