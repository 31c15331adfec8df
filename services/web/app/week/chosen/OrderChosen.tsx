import { useCallback } from "react";
import type { AircraftType } from "../../../../../shared/model/fleet.ts";
import type { OrderView } from "../../../../../shared/plan/weekOrders.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { get, pathOf } from "../../api/call.ts";
import { deadlineWords, shortDayWords } from "../../kit/dates.ts";
import { Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { chosenWords as words } from "../../strings/chosen.ts";
import { useUnits } from "../../units/units.ts";
import { PutIn } from "../moves/PutIn.tsx";
import type { ChosenProps } from "./Chosen.tsx";
import { HoursGrid } from "./HoursGrid.tsx";

/** An order: what becomes of it, and its week of hours. */
export function OrderChosen({
  blockId,
  onAsk,
  onHelp,
  onSelect,
  operation,
  order,
  ...props
}: ChosenProps & { readonly order: OrderView; readonly blockId: string | null }) {
  const units = useUnits();
  const stop =
    order.work.find((one) => one.blockId === blockId) ?? (order.work.length === 1 ? order.work[0] : undefined);
  return (
    <>
      <h2>{order.fieldName}</h2>
      <p>{words.growerAndCrop(order.grower, order.crop)}</p>
      <dl className="facts">
        <dt>{words.products}</dt>
        <dd>{order.products.join(", ")}</dd>
        <dt>{words.priority}</dt>
        <dd>{words.priorities[order.priority]}</dd>
        <dt>{words.due}</dt>
        <dd>{deadlineWords(order.latest)}</dd>
        <dt>{words.area}</dt>
        <dd>{words.areaOf(units.areaHa(order.plannedHa), units.areaHa(order.areaHa))}</dd>
      </dl>
      {order.work.length > 0 && (
        <>
          <h3>{words.stops}</h3>
          <ul className="plainList">
            {order.work.map((one) => (
              <li key={one.blockId}>
                <button
                  type="button"
                  className="plain"
                  aria-pressed={one.blockId === stop?.blockId}
                  onClick={() => onSelect({ kind: "order", orderId: order.id, blockId: one.blockId })}
                >
                  {words.stop(
                    shortDayWords(one.date),
                    one.start.clock,
                    one.end.clock,
                    one.crewName,
                    units.areaHa(one.areaHa),
                  )}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      {stop !== undefined && onAsk !== null && (
        <p className="buttons">
          <button type="button" onClick={() => onAsk({ blockId: stop.blockId })}>
            {words.move}
          </button>
          <button type="button" onClick={() => onAsk({ blockId: stop.blockId, to: null })}>
            {words.takeOut}
          </button>
        </p>
      )}
      {order.conflicts.length > 0 && (
        <>
          <h3>{words.notPlanned}</h3>
          <ul>
            {order.conflicts.map(({ areaHa, kind, kindWords, sentence }) => (
              <li key={`${kind} ${sentence}`}>
                {units.areaHa(areaHa)}, {kindWords}: {inUnits(sentence, units)}
              </li>
            ))}
          </ul>
          {onAsk !== null &&
            order.conflicts.map((conflict) => (
              <PutIn key={`${conflict.kind} ${conflict.sentence}`} conflict={conflict} onAsk={onAsk} />
            ))}
          <button type="button" className="plain" onClick={() => onHelp(order.id)}>
            {words.toRemedies}
          </button>
        </>
      )}
      <h3>{words.hours}</h3>
      <OrderHours operation={operation} {...props} date={stop?.date ?? null} />
    </>
  );
}

function OrderHours({
  chosen: { choosePart, chooseType, typeId, windows },
  date,
  operation,
  plan,
}: Pick<ChosenProps, "operation" | "chosen" | "plan"> & {
  /** Of the stop that is chosen, whose hours are told first. */
  readonly date: string | null;
}) {
  const units = useUnits();
  const types = useAsked(
    useCallback(
      (signal: AbortSignal) =>
        get<{ entries: { entry: AircraftType }[] }>(pathOf`/api/operations/${operation.id}/aircraft-types`, signal),
      [operation.id],
    ),
  );
  if (typeId === null) return <p>{words.never}</p>;
  return (
    <>
      {types.value !== null && (
        <label className="inline">
          {words.type}
          <select value={typeId} onChange={({ target }) => chooseType(target.value)}>
            {types.value.entries.map(({ entry }) => (
              <option key={entry.id} value={entry.id}>
                {entry.name}
              </option>
            ))}
          </select>
        </label>
      )}
      {plan.version < operation.version && <p className="quiet">{words.newer}</p>}
      <Shown asked={windows}>
        {({ hours, limits, orderId, part, parts }) => (
          <>
            {parts.length > 1 && (
              <label className="partChoice">
                {words.part}
                <select value={part} onChange={({ target }) => choosePart(target.value as typeof part)}>
                  {parts.map((one) => (
                    <option key={one.part} value={one.part}>
                      {words.partNames[one.part](units.areaHa(one.areaHa))}
                    </option>
                  ))}
                </select>
              </label>
            )}
            {limits.length > 0 && (
              <p>
                {words.atEveryHour} {limits.map(({ sentence }) => inUnits(sentence, units)).join("; ")}.
              </p>
            )}
            <HoursGrid key={`${orderId} ${typeId} ${part} ${date}`} hours={hours} date={date} />
          </>
        )}
      </Shown>
    </>
  );
}
