import { memo, useMemo, useState } from "react";
import type { FieldOnMap } from "../../../../shared/plan/weekMap.ts";
import { common } from "../strings/common.ts";
import { mapWords } from "../strings/map.ts";
import { useUnits } from "../units/units.ts";
import { fieldsFound } from "./fieldsFound.ts";
import type { WeekSelection } from "./WeekMapPanel.tsx";

/** The fields of the map in words: for the keyboard, for those who hear the screen, and to find one by its name. */
export const FieldList = memo(function FieldList({
  fields,
  onSelect,
  orderId,
}: {
  readonly fields: readonly FieldOnMap[];
  readonly orderId: string | null;
  readonly onSelect: (selected: WeekSelection) => void;
}) {
  const [isOpen, setIsOpen] = useState(false);
  const [search, setSearch] = useState("");
  const found = useMemo(() => fieldsFound(fields, search), [fields, search]);
  const units = useUnits();
  return (
    <details className="mapList" onToggle={({ currentTarget }) => setIsOpen(currentTarget.open)}>
      <summary>{mapWords.list(fields.length)}</summary>
      {isOpen && (
        <>
          <label>
            {mapWords.listSearch}
            <input type="search" value={search} onChange={({ target }) => setSearch(target.value)} />
          </label>
          {found.length === 0 && <p>{common.nothingFound}</p>}
          <ul>
            {found.map(({ areaHa, fieldId, name, orders, status }) => (
              <li key={fieldId}>
                <span>{mapWords.fieldTitle(name, mapWords.status[status], units.areaHa(areaHa))}</span>
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
              </li>
            ))}
          </ul>
        </>
      )}
    </details>
  );
});
