import { totalMin } from "../../../shared/agronomy/intervals.ts";
import { minutesPerHour } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Order } from "../../../shared/model/order.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { limitsOf, type Question } from "./question.ts";

/** The open hours of every order. */
export function tellSummary(question: Question): number {
  const { operation, types } = question;
  const rows = operation.orders.map((order) => ({
    orderId: order.id,
    fieldId: order.fieldId,
    types: types.map((type) => openHours(question, order, type)),
  }));
  if (question.json) {
    printJson(rows);
    return exitCodes.good;
  }
  print("Open hours of the plan's days, by order and aircraft type ('-' where it may never work the order)");
  const head = ["order", "field", ...types.map(({ id }) => id)];
  const body = rows.map(({ orderId, fieldId, types: cells }) => [
    orderId,
    fieldId,
    ...cells.map(({ never, hours }) => (never.length > 0 ? "-" : hours.toFixed(1))),
  ]);
  const right = head.map((_, column) => column).slice(2);
  for (const line of textTable([head, ...body], { indent: 0, right })) print(line);
  return exitCodes.good;
}

function openHours({ agronomy, night }: Question, order: Order, type: AircraftType) {
  const never = limitsOf(agronomy, order, type).map(({ limit }) => limit);
  const openMin = totalMin(agronomy.windows(order, type, night).windows);
  return { aircraftTypeId: type.id, never, hours: never.length > 0 ? 0 : openMin / minutesPerHour };
}
