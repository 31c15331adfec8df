import { byClock } from "../../../shared/plan/sheetWords.ts";
import type { OrderView } from "../../../shared/plan/weekOrders.ts";
import type { WeekView } from "../../../shared/plan/weekView.ts";
import { hectares } from "../../../shared/plan/words.ts";
import { type Child, el, table } from "./dom.ts";

const statusWords: Record<OrderView["status"], string> = {
  planned: "✓ planned",
  partly: "◐ partly planned",
  notPlanned: "✗ not planned",
};

/** Every order with where and when it is done, or why not. */
export function orderTable(week: WeekView, sheetAddress: (crewId: string, date: string) => string): HTMLElement {
  return el(
    "details",
    { class: "orders" },
    el("summary", {}, `All ${week.orders.length} orders, one by one`),
    table(
      "Orders",
      ["order", "field", "grower", "products", "ha", "status", "when, or why not"],
      week.orders.map((order) => [
        order.id,
        order.fieldName,
        order.grower,
        order.products.join(" + "),
        order.areaHa > 0 ? hectares(order.areaHa) : "–",
        el("span", { class: `status ${order.status}` }, statusWords[order.status]),
        el("ul", { class: "plain" }, ...whenOrWhy(order, sheetAddress).map((line) => el("li", {}, line))),
      ]),
      "orderRows",
    ),
  );
}

function whenOrWhy(order: OrderView, sheetAddress: (crewId: string, date: string) => string): Child[] {
  return [
    ...order.work.map((work) =>
      el(
        "a",
        { href: sheetAddress(work.crewId, work.date) },
        `${work.date} ${byClock(work, work.date)}, ${work.crewName}`,
      ),
    ),
    ...order.conflicts.map((conflict) => conflict.kindWords),
  ];
}
