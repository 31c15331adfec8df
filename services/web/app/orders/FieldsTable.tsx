import { useMemo } from "react";
import type { FieldFeature } from "../../../../shared/model/field.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import type { Column } from "../kit/DataTable.tsx";
import { type Row, ThingTable } from "../kit/thing/ThingTable.tsx";
import { addressOf } from "../place.ts";
import { orderWords as words } from "../strings/orders.ts";
import { useUnits } from "../units/units.ts";
import { outlineHa } from "./orderRows.ts";

const members = ["grower", "crop", "slopePct", "harvestDate"];
const filters = ["grower", "crop"];
const placeOfKey = (key: string) => addressOf("orders", "fields", key);

export function FieldsTable({ mayChange, operation }: { readonly operation: Operation; readonly mayChange: boolean }) {
  const units = useUnits();
  const extra = useMemo((): readonly Column<Row>[] => {
    const areas = new Map(operation.fields.features.map((field) => [field, outlineHa(field.geometry)]));
    const areaOf = ({ entry }: Row) => areas.get(entry as FieldFeature)!;
    const ordersOf = ({ key }: Row) => operation.orders.filter(({ fieldId }) => fieldId === key);
    return [
      { key: "area", title: words.area, show: (row) => units.areaHa(areaOf(row)), by: areaOf, isNumber: true },
      {
        key: "orders",
        title: words.orders,
        show: (row) =>
          ordersOf(row).length === 0 ? (
            ""
          ) : (
            <span>
              {ordersOf(row).map(({ id }) => (
                <a key={id} className="listed" href={addressOf("orders", id)}>
                  {id}
                </a>
              ))}
            </span>
          ),
        by: (row) => ordersOf(row).length,
      },
    ];
  }, [units, operation]);
  return (
    <ThingTable
      kind="fields"
      operation={operation}
      members={members}
      filters={filters}
      extra={extra}
      mayChange={mayChange}
      placeOfKey={placeOfKey}
    />
  );
}
