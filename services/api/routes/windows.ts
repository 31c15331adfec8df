import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { withClock } from "../../../shared/agronomy/clockSpan.ts";
import { hoursUnder } from "../../../shared/agronomy/windows.ts";
import {
  type MinuteAnswer,
  type OrderWindows,
  orderWindowsSchema,
  windowsQuerySchema,
} from "../../../shared/contracts/windows.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { readingsOf, shownTimeWords } from "../../../shared/model/clockReadings.ts";
import { orderIdSchema } from "../../../shared/model/quantities.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { refuse, unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { operationParams } from "./parameters.ts";

export const windowRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/operations/{operationId}/orders/{orderId}/windows",
    id: "windows",
    summary:
      "When an order may be worked by a kind of aircraft, hour by hour what stops it, and why one time is open or not",
    params: operationParams.extend({ orderId: orderIdSchema }),
    query: windowsQuerySchema,
    body: null,
    answers: { 200: answers("The windows in the latest version of the operation", orderWindowsSchema) },
    problems: [404, 422],
    async handle({ store, onWindows }, { params, query }) {
      const stored = await store.latestOperation(params.operationId);
      if (!stored) return unknownThing("operation");
      const operation = stored.document;
      const order = operation.orders.find((one) => one.id === params.orderId);
      if (!order) return unknownThing("order");
      const type = operation.fleet.aircraftTypes.find((one) => one.id === query.type);
      if (!type) return unknownThing("aircraft type");

      const calendar = createCalendar(operation.settings);
      const { at } = query;
      const readings = at === undefined ? [] : readingsOf(calendar, at);
      if (at !== undefined && readings.length === 0) {
        const expected = shownTimeWords(calendar, at);
        return refuse(422, "The clocks never show this time.", [{ path: ["at"], value: at, expected }]);
      }
      if (readings.some((min) => min < 0 || min >= calendar.horizonMin)) {
        const expected = `a time on a day of the plan, from ${calendar.dates[0]} to ${calendar.dates.at(-1)}`;
        return refuse(422, "The time lies outside the plan.", [{ path: ["at"], value: at, expected }]);
      }
      const agronomy = createAgronomy(operation, calendar);
      const parts = agronomy.parts(order).map(({ part, areaHa }) => ({ part, areaHa }));
      const names = parts.length > 0 ? parts.map(({ part }) => part) : ["whole" as const];
      // The near part comes first, if there is one.
      const part = query.part ?? names[0]!;
      if (!names.includes(part)) {
        const expected = `a part of this order: ${names.join(" or ")}`;
        return refuse(422, "The order has no such part.", [{ path: ["part"], value: part, expected }]);
      }
      const night = { night: query.night === "yes", ...(part === "rest" ? { rest: true as const } : {}) };
      const limits = [...agronomy.orderLimits(order), ...agronomy.typeLimits(order, type)];
      const { windows, lostMin } = agronomy.windows(order, type, night);
      onWindows?.(windows.length);
      const [answer, alsoAt] = readings.map((min): MinuteAnswer => {
        const judgements = [...limits, ...agronomy.judge(order, type, min, night)];
        return {
          at: calendar.isoOfMin(min),
          min,
          open: judgements.length === 0,
          judgements,
          sentence: agronomy.why(order, type, min, night),
        };
      });
      const body: OrderWindows = {
        orderId: order.id,
        aircraftTypeId: type.id,
        night: query.night,
        parts,
        part,
        answer: answer ?? null,
        alsoAt: alsoAt ?? null,
        clash: agronomy.clash(order, type, night) ?? null,
        limits,
        windows: limits.length > 0 ? [] : windows.map((window) => withClock(calendar, window)),
        lostMin,
        hours: hoursUnder(limits, agronomy.hours(order, type, night)).map((hour) =>
          withClock(calendar, { ...hour, judgements: [...hour.judgements] }),
        ),
        caution,
      };
      return ok(body);
    },
  }),
];
