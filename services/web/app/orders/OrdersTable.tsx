import { useMemo } from "react";
import { choiceOf } from "../../../../shared/model/memberWords.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { type Column, DataTable, type TableFilter } from "../kit/DataTable.tsx";
import { deadlineWords, shortDayWords } from "../kit/dates.ts";
import { newKey } from "../kit/thing/ThingPage.tsx";
import { addressOf } from "../place.ts";
import { formWords } from "../strings/forms.ts";
import { orderWords as words } from "../strings/orders.ts";
import { thingWords } from "../strings/things.ts";
import { useUnits } from "../units/units.ts";
import { type OrderRow, type OrderStatus, orderRows, priorityRank } from "./orderRows.ts";
import type { ShownWeek } from "./useShownWeek.ts";

const statusWords = (status: string) => words.statuses[status as OrderStatus];
const filters: readonly TableFilter<OrderRow>[] = [
  { key: "status", title: words.status, valuesOf: ({ status }) => [status], wordsOf: statusWords },
  {
    key: "priority",
    title: words.priority,
    valuesOf: ({ priority }) => [priority],
    wordsOf: (value) => choiceOf("priority", value),
  },
  {
    key: "method",
    title: words.method,
    valuesOf: ({ method }) => [method],
    wordsOf: (value) => choiceOf("method", value),
  },
  { key: "grower", title: words.grower, valuesOf: ({ grower }) => [grower] },
];
const keyOf = ({ id }: OrderRow) => id;
const textOf = ({ text }: OrderRow) => text;

/** When a grower who rings is served, and by whom. */
function InPlan({ planId, row: { id, status, work } }: { readonly row: OrderRow; readonly planId: string | null }) {
  const [first, ...others] = work;
  const text =
    first === undefined
      ? statusWords(status)
      : words.inPlan(
          status === "partly" ? statusWords(status) : null,
          `${shortDayWords(first.start.date)} ${first.start.clock}`,
          first.crewName,
          others.length,
        );
  return (
    <span className={`status ${status}`}>
      {planId === null || status === "notInPlan" ? text : <a href={addressOf("week", planId, "order", id)}>{text}</a>}
    </span>
  );
}

/** `shown`: null while the plan is not known yet. */
export function OrdersTable({
  mayChange,
  operation,
  shown,
}: {
  readonly operation: Operation;
  readonly shown: ShownWeek | null;
  readonly mayChange: boolean;
}) {
  const units = useUnits();
  const rows = useMemo(() => orderRows(operation, shown?.week ?? null), [operation, shown]);
  const columns = useMemo(
    (): readonly Column<OrderRow>[] => [
      {
        key: "id",
        title: words.order,
        show: ({ id }) => <a href={addressOf("orders", id)}>{id}</a>,
        by: ({ id }) => id,
      },
      {
        key: "field",
        title: words.field,
        show: ({ fieldId, fieldName }) => <a href={addressOf("orders", "fields", fieldId)}>{fieldName}</a>,
        by: ({ fieldName }) => fieldName,
      },
      { key: "grower", title: words.grower, show: ({ grower }) => grower, by: ({ grower }) => grower },
      { key: "crop", title: words.crop, show: ({ crop }) => crop, by: ({ crop }) => crop },
      {
        key: "products",
        title: words.products,
        show: ({ method, products }) => (
          <span>
            <span className={`methodMark ${method}`}>{choiceOf("method", method)}</span> {products.join(", ")}
          </span>
        ),
        by: ({ products }) => products.join(", "),
      },
      {
        key: "area",
        title: words.area,
        show: ({ areaHa }) => units.areaHa(areaHa),
        by: ({ areaHa }) => areaHa,
        isNumber: true,
      },
      {
        key: "preferred",
        title: words.preferred,
        show: (row) => (row.preferredDate ? shortDayWords(row.preferredDate) : ""),
        isShort: true,
        by: (row) => row.preferredDate,
      },
      {
        key: "latest",
        title: words.latest,
        show: ({ latest }) => deadlineWords(latest),
        isShort: true,
        by: ({ latest }) => latest,
      },
      {
        key: "priority",
        title: words.priority,
        show: ({ priority }) => choiceOf("priority", priority),
        by: priorityRank,
      },
      {
        key: "status",
        title: words.status,
        show: (row) => shown !== null && <InPlan row={row} planId={shown.planId} />,
        // What is planned in the order of its days, then the rest.
        by: ({ status, work }) => work[0]?.start.iso ?? `~${statusWords(status)}`,
      },
    ],
    [units, shown],
  );
  return (
    <>
      <h1 className="visuallyHidden">{words.orders}</h1>
      {mayChange && (
        <p className="buttons">
          <a className="button" href={addressOf("orders", newKey)}>
            {formWords.add(thingWords.orders!.one)}
          </a>
        </p>
      )}
      <DataTable
        name="orders"
        caption={words.orders}
        rows={rows}
        keyOf={keyOf}
        textOf={textOf}
        columns={columns}
        filters={filters}
      />
    </>
  );
}
