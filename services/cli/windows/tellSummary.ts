import { totalMin } from "../../../shared/agronomy/intervals.ts";
import { minutesPerHour } from "../../../shared/model/calendar.ts";
import type { Order } from "../../../shared/model/order.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { type Case, casesOf, nightLines, type Question } from "./question.ts";

/** The open hours of every order, by the parts of its ground that have windows of their own. */
export function tellSummary(question: Question): number {
  const { operation, types } = question;
  const rows = operation.orders.map((order) => ({
    orderId: order.id,
    fieldId: order.fieldId,
    types: casesOf(question, order).map((one) => openHours(question, order, one)),
  }));
  if (question.json) {
    printJson(rows);
    return exitCodes.good;
  }
  print("Open hours of the plan's days, by order and aircraft type ('-' where it may never work the order); an order");
  print("whose near part waits for winds that its rest need not wait for has a line for each");
  for (const line of nightLines(question, types)) print(line);
  const head = ["order", "field", "ha", ...types.map(({ id }) => id)];
  const body = rows.flatMap(({ orderId, fieldId, types: cells }) => {
    const parts = cells.filter(({ aircraftTypeId }) => aircraftTypeId === cells[0]!.aircraftTypeId);
    return parts.map(({ part, areaHa }) => [
      part === "whole" ? orderId : `${orderId} ${part}`,
      fieldId,
      areaHa.toFixed(2),
      ...cells
        .filter((cell) => cell.part === part)
        .map(({ limits, hours }) => (limits.length > 0 ? "-" : hours.toFixed(1))),
    ]);
  });
  const right = head.map((_, column) => column).slice(2);
  for (const line of textTable([head, ...body], { indent: 0, right })) print(line);
  return exitCodes.good;
}

function openHours({ agronomy }: Question, order: Order, { type, part, areaHa, night, limits }: Case) {
  const openMin = totalMin(agronomy.windows(order, type, night).windows);
  const hours = limits.length > 0 ? 0 : openMin / minutesPerHour;
  return { aircraftTypeId: type.id, part, areaHa, limits, hours };
}
