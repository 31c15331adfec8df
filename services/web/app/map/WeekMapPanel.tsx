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
import { fieldBounds, nearField } from "./nearField.ts";
import { nextOrderOf, orderItems, weekItems } from "./weekItems.ts";

export type WeekSelection =
  | { readonly kind: "order"; readonly orderId: string }
  | { readonly kind: "crewDay"; readonly crewId: string; readonly date: string };

export interface WeekMapPanelProps {
  readonly planId: string;
  /** What crews are called. */
  readonly crews: readonly { readonly id: string; readonly name: string }[];
  readonly selected: WeekSelection | null;
  readonly onSelect: (selected: WeekSelection | null) => void;
}

/** The map of a plan's week. May be imported from anywhere: what draws it comes when it is shown. */
export function WeekMapPanel({ planId, ...props }: WeekMapPanelProps) {
  const asked = useAsked(
    useCallback((signal: AbortSignal) => get<WeekMap>(pathOf`/api/plans/${planId}/map`, signal), [planId]),
  );
  return (
    <section className="weekMap" aria-label={mapWords.weekTitle}>
      <Shown asked={asked}>{(week) => <WeekOnMap week={week} planId={planId} {...props} />}</Shown>
    </section>
  );
}

function WeekOnMap({ crews, onSelect, planId, selected, week }: WeekMapPanelProps & { readonly week: WeekMap }) {
  const system = useUnitSystem();
  const { crewId, date, orderId } = partsOf(selected);
  const field = orderId === null ? undefined : week.fields.find(({ orders }) => orders.includes(orderId));
  const askDays = useMemo(() => {
    const crewDays = crewId !== null && date !== null ? [{ crewId, date }] : (field?.crewDays ?? []);
    if (crewDays.length === 0) return null;
    return (signal: AbortSignal) =>
      Promise.all(
        crewDays.map((one) =>
          get<DayMap>(pathOf`/api/plans/${planId}/crews/${one.crewId}/days/${one.date}/map`, signal),
        ),
      );
  }, [planId, crewId, date, field]);
  const days = useAsked(askDays);
  const day = crewId === null ? null : (days.value?.[0] ?? null);
  const items = useMemo(() => {
    const units = unitWords(system);
    return orderId === null ? weekItems(week, day, units) : orderItems(week, orderId, days.value ?? [], units);
  }, [week, day, days.value, orderId, system]);
  const bounds = useMemo(() => {
    if (field !== undefined) return fieldBounds(field.geometry, nearField(field.geometry, week.sensitive));
    return day?.bounds ?? week.bounds;
  }, [week, field, day]);
  const hasPart = field !== undefined || day !== null;
  const whole = useMemo(() => (hasPart ? { bounds: week.bounds, words: mapWords.wholeWeek } : null), [week, hasPart]);
  const onChoose = useCallback(
    (chosen: string) => {
      const fieldId = day?.stops.find(({ number }) => `stop ${number}` === chosen)?.fieldId ?? chosen;
      const orders = week.fields.find((one) => one.fieldId === fieldId)?.orders ?? [];
      const next = nextOrderOf(orders, orderId);
      if (next !== null) onSelect({ kind: "order", orderId: next });
    },
    [week, day, orderId, onSelect],
  );
  if (week.fields.length === 0) return <p className="empty">{mapWords.nothing}</p>;
  return (
    <>
      <FieldMap
        name={mapWords.weekTitle}
        items={items}
        bounds={bounds}
        fitKey={[crewId, date, orderId, ...bounds].join(" ")}
        shape={field === undefined ? bounds : null}
        whole={whole}
        onChoose={onChoose}
      />
      {days.error !== null && <Failure error={days.error} onAgain={days.again} />}
      {field !== undefined && <ChosenField field={field} orderId={orderId!} crews={crews} onSelect={onSelect} />}
      <FieldList fields={week.fields} orderId={orderId} onSelect={onSelect} />
      <MapKey items={items} />
    </>
  );
}

function partsOf(selected: WeekSelection | null) {
  const crewDay = selected?.kind === "crewDay" ? selected : null;
  const orderId = selected?.kind === "order" ? selected.orderId : null;
  return { crewId: crewDay?.crewId ?? null, date: crewDay?.date ?? null, orderId };
}
