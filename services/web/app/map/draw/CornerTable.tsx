import type { LonLat } from "../../../../../shared/geo/plane.ts";
import { drawWords } from "../../strings/draw.ts";
import { DegreesInput } from "./DegreesInput.tsx";

/** The corners of a ring in numbers: all that the mouse can do on the map. */
export function CornerTable({
  corner: chosen,
  corners,
  name,
  onAdd,
  onCorner,
  onMove,
  onRemove,
}: {
  readonly name: string;
  readonly corners: readonly LonLat[];
  readonly corner: number | null;
  /** Which corner the new one becomes. */
  readonly onAdd: (at: number) => void;
  readonly onCorner: (corner: number) => void;
  readonly onMove: (corner: number, position: LonLat) => void;
  readonly onRemove: (corner: number) => void;
}) {
  return (
    <>
      {corners.length > 0 && (
        <div className="scroller cornerTable">
          <table>
            <caption>{drawWords.corners(name)}</caption>
            <thead>
              <tr>
                <th scope="col">{drawWords.corner}</th>
                <th scope="col">{drawWords.latitude}</th>
                <th scope="col">{drawWords.longitude}</th>
                <th scope="col">{drawWords.change}</th>
              </tr>
            </thead>
            <tbody>
              {corners.map(([lonDeg, latDeg], at) => {
                const ofCorner = drawWords.cornerNumber(at + 1);
                return (
                  // biome-ignore lint/suspicious/noArrayIndexKey: a corner is its number.
                  <tr key={at} className={at === chosen ? "ofMap" : undefined} onFocus={() => onCorner(at)}>
                    <th scope="row">{at + 1}</th>
                    <td>
                      <DegreesInput
                        label={drawWords.latitudeOf(ofCorner)}
                        mostDeg={90}
                        valueDeg={latDeg}
                        onChange={(angleDeg) => onMove(at, [lonDeg, angleDeg])}
                      />
                    </td>
                    <td>
                      <DegreesInput
                        label={drawWords.longitudeOf(ofCorner)}
                        mostDeg={180}
                        valueDeg={lonDeg}
                        onChange={(angleDeg) => onMove(at, [angleDeg, latDeg])}
                      />
                    </td>
                    <td>
                      <button type="button" aria-label={drawWords.addAfterCorner(at + 1)} onClick={() => onAdd(at + 1)}>
                        {drawWords.addAfter}
                      </button>{" "}
                      <button type="button" aria-label={drawWords.removeCorner(at + 1)} onClick={() => onRemove(at)}>
                        {drawWords.remove}
                      </button>
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </div>
      )}
      <button type="button" onClick={() => onAdd(corners.length)}>
        {drawWords.addCorner}
      </button>
    </>
  );
}
