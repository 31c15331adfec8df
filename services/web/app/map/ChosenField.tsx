import type { FieldOnMap } from "../../../../shared/plan/weekMap.ts";
import { shortDayWords } from "../kit/dates.ts";
import { mapWords } from "../strings/map.ts";
import type { WeekMapPanelProps, WeekSelection } from "./WeekMapPanel.tsx";

/** What the map knows of a chosen order's field beyond the order: what else is ordered there, and who comes to it. */
export function ChosenField({
  crews,
  field: { crewDays, orders },
  onSelect,
  orderId,
}: {
  readonly field: FieldOnMap;
  readonly crews: WeekMapPanelProps["crews"];
  readonly orderId: string;
  readonly onSelect: (selected: WeekSelection) => void;
}) {
  if (orders.length < 2 && crewDays.length === 0) return null;
  return (
    <div className="mapChosen">
      {orders.length > 1 && (
        <p className="mapChoices">
          {mapWords.ordersHere}{" "}
          {orders.map((one) => (
            <button
              key={one}
              type="button"
              aria-pressed={one === orderId}
              onClick={() => onSelect({ kind: "order", orderId: one })}
            >
              {mapWords.order(one)}
            </button>
          ))}
        </p>
      )}
      {crewDays.length > 0 && (
        <p className="mapChoices">
          {mapWords.worked}{" "}
          {crewDays.map(({ crewId, date }) => (
            <button key={`${crewId} ${date}`} type="button" onClick={() => onSelect({ kind: "crewDay", crewId, date })}>
              {mapWords.crewDay(crews.find(({ id }) => id === crewId)?.name ?? crewId, shortDayWords(date))}
            </button>
          ))}
        </p>
      )}
    </div>
  );
}
