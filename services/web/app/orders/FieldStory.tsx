import { planeOf, toAreaXY } from "../../../../shared/geo/convert.ts";
import type { FieldFeature } from "../../../../shared/model/field.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { addressOf } from "../place.ts";
import { orderWords as words } from "../strings/orders.ts";
import { useUnits } from "../units/units.ts";
import { outlineHa } from "./orderRows.ts";

/** What a field looks like, and which orders are for it. */
export function FieldStory({ fieldId, operation }: { readonly operation: Operation; readonly fieldId: string }) {
  const units = useUnits();
  const field = operation.fields.features.find(({ properties }) => properties.id === fieldId);
  if (!field) return null;
  const orders = operation.orders.filter((order) => order.fieldId === fieldId);
  return (
    <section className="fieldStory">
      <Outline field={field} />
      <div>
        <p>
          {units.areaHa(outlineHa(field.geometry))} {words.areaHint}.
        </p>
        <p>
          {orders.length === 0 ? words.noOrders : `${words.ordersOfField}: `}
          {orders.map(({ id }) => (
            <a key={id} className="listed" href={addressOf("orders", id)}>
              {id}
            </a>
          ))}
        </p>
      </div>
    </section>
  );
}

/** Drawn to scale, north up; pads as dots. */
function Outline({ field: { geometry, properties } }: { readonly field: FieldFeature }) {
  const plane = planeOf(geometry);
  const rings = toAreaXY(plane, geometry).flat();
  const pads = properties.pads.map(({ latDeg, lonDeg }) => plane.toXY([lonDeg, latDeg]));
  const points = [...rings.flat(), ...pads];
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => -y)];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [widthM, heightM] = [Math.max(...xs) - left, Math.max(...ys) - top];
  const marginM = Math.max(widthM, heightM) / 20;
  const viewBox = [left - marginM, top - marginM, widthM + 2 * marginM, heightM + 2 * marginM].join(" ");
  const path = rings.map((ring) => `M${ring.map(([x, y]) => `${x} ${-y}`).join("L")}Z`).join("");
  return (
    <svg viewBox={viewBox} role="img" aria-label={words.outlineOf(properties.name)}>
      <path d={path} fillRule="evenodd" />
      {pads.map(([x, y]) => (
        <circle key={`${x} ${y}`} cx={x} cy={-y} r={marginM / 2} />
      ))}
    </svg>
  );
}
