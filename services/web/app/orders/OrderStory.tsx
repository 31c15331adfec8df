import type { Operation } from "../../../../shared/model/operation.ts";
import { inUnits } from "../../../../shared/units/inUnits.ts";
import { shortDayWords } from "../kit/dates.ts";
import { Scroller } from "../kit/Scroller.tsx";
import { addressOf } from "../place.ts";
import { orderWords as words } from "../strings/orders.ts";
import { useUnits } from "../units/units.ts";
import { type OrderRow, outlineHa } from "./orderRows.ts";
import type { ShownWeek } from "./useShownWeek.ts";

/** What becomes of an order in the plan: when it is worked, or why it is not. */
export function OrderStory({
  operation,
  orderId,
  shown,
}: {
  readonly operation: Operation;
  readonly orderId: string;
  readonly shown: ShownWeek | null;
}) {
  const units = useUnits();
  const order = operation.orders.find(({ id }) => id === orderId);
  const field = operation.fields.features.find(({ properties }) => properties.id === order?.fieldId);
  const planned = shown?.week?.orders.find(({ id }) => id === orderId);
  if (!order || !field) return null;
  const status: OrderRow["status"] = planned?.status ?? (shown?.week ? "notInPlan" : "noPlan");
  return (
    <section>
      <p>
        <a href={addressOf("orders", "fields", order.fieldId)}>{field.properties.name}</a>, {field.properties.grower},{" "}
        {field.properties.crop}, {units.areaHa(outlineHa(order.ground ?? field.geometry))} {words.areaHint}.
      </p>
      {shown !== null && (
        <p>
          {words.status}: <span className={`status ${status}`}>{words.statuses[status]}</span>
        </p>
      )}
      {planned !== undefined && planned.work.length > 0 && (
        <Scroller name={words.work}>
          <table>
            <caption>{words.work}</caption>
            <thead>
              <tr>
                <th scope="col">{words.crew}</th>
                <th scope="col">{words.from}</th>
                <th scope="col">{words.to}</th>
                <th scope="col" className="number">
                  {words.area}
                </th>
              </tr>
            </thead>
            <tbody>
              {planned.work.map(({ areaHa, blockId, crewName, end, start }) => (
                <tr key={blockId}>
                  <td>{crewName}</td>
                  <td>{shortDayWords(start.iso)}</td>
                  <td>{shortDayWords(end.iso)}</td>
                  <td className="number">{units.areaHa(areaHa)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroller>
      )}
      {planned !== undefined && planned.conflicts.length > 0 && (
        <>
          <h2>{words.whyNot}</h2>
          <ul>
            {planned.conflicts.map(({ kind, sentence }) => (
              <li key={`${kind} ${sentence}`}>{inUnits(sentence, units)}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
