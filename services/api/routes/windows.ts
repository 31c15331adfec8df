import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { type OrderWindows, orderWindowsSchema, windowsQuerySchema } from "../../../shared/contracts/windows.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { orderIdSchema } from "../../../shared/model/quantities.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { operationParams } from "./parameters.ts";

export const windowRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/operations/{operationId}/orders/{orderId}/windows",
    id: "windows",
    summary: "When an order may be worked by a kind of aircraft, and hour by hour what stops it",
    params: operationParams.extend({ orderId: orderIdSchema }),
    query: windowsQuerySchema,
    body: null,
    answers: { 200: answers("The windows in the latest version of the operation", orderWindowsSchema) },
    problems: [404],
    async handle({ store }, { params, query }) {
      const stored = await store.latestOperation(params.operationId);
      if (!stored) return unknownThing("operation");
      const operation = stored.document;
      const order = operation.orders.find((one) => one.id === params.orderId);
      if (!order) return unknownThing("order");
      const type = operation.fleet.aircraftTypes.find((one) => one.id === query.type);
      if (!type) return unknownThing("aircraft type");

      const calendar = createCalendar(operation.settings);
      const agronomy = createAgronomy(operation, calendar);
      const night = { night: query.night === "yes" };
      const { windows, lostMin } = agronomy.windows(order, type, night);
      const withClock = <S extends { readonly startMin: number; readonly endMin: number }>(span: S) => ({
        ...span,
        start: calendar.isoOfMin(span.startMin),
        end: calendar.isoOfMin(span.endMin),
      });
      const body: OrderWindows = {
        orderId: order.id,
        aircraftTypeId: type.id,
        night: query.night,
        limits: [...agronomy.orderLimits(order), ...agronomy.typeLimits(order, type)],
        windows: windows.map(withClock),
        lostMin,
        hours: agronomy
          .hours(order, type, night)
          .map((hour) => withClock({ ...hour, judgements: [...hour.judgements] })),
        caution,
      };
      return ok(body);
    },
  }),
];
