import { useCallback, useMemo } from "react";
import type { DayMap as DayMapView } from "../../../../shared/plan/dayMap.ts";
import { measuresOf } from "../../../../shared/plan/measures.ts";
import { hazardWords } from "../strings/hazards.ts";
import { mapWords } from "../strings/map.ts";
import { unitWords, useUnitSystem } from "../units/units.ts";
import { dayBounds, dayItems } from "./dayItems.ts";
import { FieldMap } from "./FieldMap.tsx";
import { MapKey } from "./MapKey.tsx";
import { useWhereIAm, WhereIAm, whereItem } from "./WhereIAm.tsx";

export interface DayMapProps {
  /** As the API answers it; nothing else is asked for. */
  readonly map: DayMapView;
  /** The stop that is chosen: its passes are drawn, and it is what the map is fitted to. Null: the day as a whole. */
  readonly stopNumber: number | null;
  /** A stop that was chosen on the map. */
  readonly onStop?: (stopNumber: number) => void;
}

/** A crew's day on the map. May be imported from anywhere: what draws it comes when it is shown. */
export function DayMap({ map, onStop, stopNumber }: DayMapProps) {
  const system = useUnitSystem();
  const where = useWhereIAm();
  const ofDay = useMemo(() => dayItems(map, stopNumber, unitWords(system)), [map, stopNumber, system]);
  const items = useMemo(
    () => (where.at === null ? ofDay : { ...ofDay, points: [...ofDay.points, whereItem(where.at)] }),
    [ofDay, where.at],
  );
  const onChoose = useCallback(
    (chosen: string) => {
      const stop = map.stops.find(({ number }) => `stop ${number}` === chosen);
      if (stop) onStop?.(stop.number);
    },
    [map, onStop],
  );
  const bounds = useMemo(() => dayBounds(map, stopNumber), [map, stopNumber]);
  const whole = useMemo(
    () => (stopNumber === null ? null : { bounds: map.bounds, words: mapWords.wholeDay }),
    [map, stopNumber],
  );
  return (
    <section className="dayMap" aria-label={mapWords.dayTitle}>
      <FieldMap
        name={mapWords.dayTitle}
        items={items}
        bounds={bounds}
        whole={whole}
        shape={stopNumber === null ? map.bounds : null}
        onChoose={onChoose}
      />
      <WhereIAm where={where} />
      {map.hazards.length > 0 && (
        <details className="mapList">
          <summary>{hazardWords.list(map.hazards.length)}</summary>
          <ul>
            {map.hazards.map((one) => (
              <li key={one.id}>{hazardWords.sign(hazardWords.name(one, measuresOf[system]), one.note)}</li>
            ))}
          </ul>
        </details>
      )}
      {map.sensitive.length > 0 && (
        <details className="mapList">
          <summary>{mapWords.nearList(map.sensitive.length)}</summary>
          <ul>
            {map.sensitive.map(({ id, kind, name }) => (
              <li key={id}>{mapWords.sensitive(name, mapWords.kinds[kind])}</li>
            ))}
          </ul>
        </details>
      )}
      <MapKey items={items} />
    </section>
  );
}
