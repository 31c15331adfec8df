import type { FieldOnMap } from "../../../../shared/plan/weekMap.ts";
import { shortDayWords } from "../kit/dates.ts";
import { mapWords } from "../strings/map.ts";
import { useUnits } from "../units/units.ts";
import type { WeekSelection } from "./WeekMapPanel.tsx";

/** What there is to say of the field whose order is chosen, and whom to ask about it. */
export function ChosenField({
  field: { areaHa, crewDays, crop, grower, name, orders, status },
  onSelect,
  orderId,
}: {
  readonly field: FieldOnMap;
  readonly orderId: string;
  readonly onSelect: (selected: WeekSelection) => void;
}) {
  const units = useUnits();
  return (
    <div className="mapChosen">
      <h2>{name}</h2>
      <p>{mapWords.fieldFacts(grower, crop, units.areaHa(areaHa), mapWords.status[status])}</p>
      {orders.length > 1 && (
        <p className="mapChoices">
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
              {mapWords.crewDay(crewId, shortDayWords(date))}
            </button>
          ))}
        </p>
      )}
    </div>
  );
}
