import type { LonLat } from "../../../../../shared/geo/plane.ts";
import { drawWords } from "../../strings/draw.ts";
import { PlaceRows } from "./PlaceRows.tsx";

/** The corners of a ring. */
export function CornerRows({
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
        <PlaceRows
          title={drawWords.corners(name)}
          rows={corners.map((position, at) => ({
            key: at,
            short: String(at + 1),
            name: drawWords.cornerNumber(at + 1),
            at: position,
            isChosen: at === chosen,
            onFocus: () => onCorner(at),
            onMove: (to) => onMove(at, to),
            buttons: (
              <>
                <button type="button" aria-label={drawWords.addAfterCorner(at + 1)} onClick={() => onAdd(at + 1)}>
                  {drawWords.addAfter}
                </button>{" "}
                <button type="button" aria-label={drawWords.removeCorner(at + 1)} onClick={() => onRemove(at)}>
                  {drawWords.remove}
                </button>
              </>
            ),
          }))}
        />
      )}
      <button type="button" onClick={() => onAdd(corners.length)}>
        {drawWords.addCorner}
      </button>
    </>
  );
}
