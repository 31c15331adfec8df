import { useCallback, useMemo } from "react";
import type { DayMap } from "../../../../shared/plan/dayMap.ts";
import type { WeekMap } from "../../../../shared/plan/weekMap.ts";
import { get, pathOf } from "../api/call.ts";
import { Failure, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { mapWords } from "../strings/map.ts";
import { unitWords, useUnitSystem } from "../units/units.ts";
import { ChosenField } from "./ChosenField.tsx";
import { FieldList } from "./FieldList.tsx";
import { FieldMap } from "./FieldMap.tsx";
import { MapKey } from "./MapKey.tsx";
import { nextOrderOf, weekItems } from "./weekItems.ts";

export type WeekSelection =
  | { readonly kind: "order"; readonly orderId: string }
  | { readonly kind: "crewDay"; readonly crewId: string; readonly date: string };

export interface WeekMapPanelProps {
  readonly operationId: string;
  readonly planId: string;
  readonly selected: WeekSelection | null;
  readonly onSelect: (selected: WeekSelection | null) => void;
}

/** The map of a plan's week. May be imported from anywhere: what draws it comes when it is shown. */
export function WeekMapPanel({ onSelect, planId, selected }: WeekMapPanelProps) {
  const asked = useAsked(
    useCallback((signal: AbortSignal) => get<WeekMap>(pathOf`/api/plans/${planId}/map`, signal), [planId]),
  );
  return (
    <section className="weekMap" aria-label={mapWords.weekTitle}>
      <Shown asked={asked}>
        {(week) => <WeekOnMap week={week} planId={planId} selected={selected} onSelect={onSelect} />}
      </Shown>
    </section>
  );
}

function WeekOnMap({
  onSelect,
  planId,
  selected,
  week,
}: Pick<WeekMapPanelProps, "planId" | "selected" | "onSelect"> & { readonly week: WeekMap }) {
  const system = useUnitSystem();
  const crewDay = selected?.kind === "crewDay" ? selected : null;
  const [crewId, date] = [crewDay?.crewId ?? null, crewDay?.date ?? null];
  const askDay = useMemo(
    () =>
      crewId === null || date === null
        ? null
        : (signal: AbortSignal) => get<DayMap>(pathOf`/api/plans/${planId}/crews/${crewId}/days/${date}/map`, signal),
    [planId, crewId, date],
  );
  const day = useAsked(askDay);
  const orderId = selected?.kind === "order" ? selected.orderId : null;
  const items = useMemo(
    () => weekItems(week, day.value, orderId, unitWords(system)),
    [week, day.value, orderId, system],
  );
  const onChoose = useCallback(
    (chosen: string) => {
      const fieldId = day.value?.stops.find(({ number }) => `stop ${number}` === chosen)?.fieldId ?? chosen;
      const orders = week.fields.find((field) => field.fieldId === fieldId)?.orders ?? [];
      const next = nextOrderOf(orders, orderId);
      if (next !== null) onSelect({ kind: "order", orderId: next });
    },
    [week, day.value, orderId, onSelect],
  );
  if (week.fields.length === 0) return <p className="empty">{mapWords.nothing}</p>;
  const chosenFields = orderId === null ? [] : week.fields.filter(({ orders }) => orders.includes(orderId));
  return (
    <>
      <FieldMap
        name={mapWords.weekTitle}
        items={items}
        bounds={day.value?.bounds ?? week.bounds}
        shape={week.bounds}
        onChoose={onChoose}
      />
      {day.error !== null && <Failure error={day.error} onAgain={day.again} />}
      {crewDay !== null && (
        <p className="mapChosen">
          <button type="button" onClick={() => onSelect(null)}>
            {mapWords.wholeWeek}
          </button>
        </p>
      )}
      {chosenFields.map((field) => (
        <ChosenField key={field.fieldId} field={field} orderId={orderId!} onSelect={onSelect} />
      ))}
      <FieldList fields={week.fields} orderId={orderId} onSelect={onSelect} />
      <MapKey items={items} />
    </>
  );
}
