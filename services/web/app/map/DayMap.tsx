import type { DayMap as DayMapView } from "../../../../shared/plan/dayMap.ts";
import { mapWords } from "../strings/map.ts";

export interface DayMapProps {
  /** As the API answers it; nothing else is asked for. */
  readonly map: DayMapView;
  /** The stop that is chosen: its passes are drawn, and it is what the map is fitted to. Null: the day as a whole. */
  readonly stopNumber: number | null;
  /** A stop that was chosen on the map. */
  readonly onStop?: (stopNumber: number) => void;
}

/** A crew's day on the map. May be imported from anywhere: what draws it comes when it is shown. */
export function DayMap(_: DayMapProps) {
  return <p className="quiet">{mapWords.loading}</p>;
}
