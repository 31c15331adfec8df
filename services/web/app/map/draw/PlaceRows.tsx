import { type ReactNode, useId } from "react";
import type { LonLat } from "../../../../../shared/geo/plane.ts";
import { drawWords } from "../../strings/draw.ts";
import { DegreesInput } from "./DegreesInput.tsx";

export interface PlaceRow {
  readonly key: string | number;
  /** Stands before its numbers. */
  readonly short: string;
  /** As it is spoken of. */
  readonly name: string;
  readonly at: LonLat;
  readonly isChosen: boolean;
  readonly onFocus?: () => void;
  readonly onMove: (position: LonLat) => void;
  readonly buttons: ReactNode;
}

/** Places in numbers, each a row that breaks where the screen is narrow: all that the mouse can do on the map. */
export function PlaceRows({ rows, title }: { readonly title: string; readonly rows: readonly PlaceRow[] }) {
  const titleId = useId();
  return (
    <div>
      <p id={titleId} className="placesTitle">
        {title}
      </p>
      <ol className="places" aria-labelledby={titleId}>
        {rows.map(({ at: [lonDeg, latDeg], buttons, isChosen, key, name, onFocus, onMove, short }) => (
          <li key={key} className={isChosen ? "ofMap" : undefined} onFocus={onFocus}>
            <b>{short}</b>
            <div className="degrees">
              <span aria-hidden="true">{drawWords.latitude}</span>
              <DegreesInput
                label={drawWords.latitudeOf(name)}
                mostDeg={90}
                valueDeg={latDeg}
                onChange={(angleDeg) => onMove([lonDeg, angleDeg])}
              />
            </div>
            <div className="degrees">
              <span aria-hidden="true">{drawWords.longitude}</span>
              <DegreesInput
                label={drawWords.longitudeOf(name)}
                mostDeg={180}
                valueDeg={lonDeg}
                onChange={(angleDeg) => onMove([angleDeg, latDeg])}
              />
            </div>
            <span className="placeButtons">{buttons}</span>
          </li>
        ))}
      </ol>
    </div>
  );
}
