import { shortDateWords } from "../../../shared/plan/dateWords.ts";
import { clockOn } from "../../../shared/plan/sheetWords.ts";
import { groupBy } from "../../../shared/plan/totals.ts";
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

/** A line for each crew-day that works on the order, and one for each reason why some of it is not planned. */
function whenOrWhy(order: OrderView, sheetAddress: (crewId: string, date: string) => string): Child[] {
  const crewDays = groupBy(order.work, ({ crewId, date }) => sheetAddress(crewId, date));
  return [
    ...[...crewDays].map(([address, work]) => {
      const { crewName, date, start } = work[0]!;
      const end = work.at(-1)!.end;
      const parts = work.length === 1 ? "" : `, ${work.length} parts`;
      return el(
        "a",
        { href: address },
        `${shortDateWords(date, date)} ${clockOn(start, date)} to ${clockOn(end, date)}, ${crewName}${parts}`,
      );
    }),
    ...order.conflicts.map((conflict) => conflict.kindWords),
  ];
}
