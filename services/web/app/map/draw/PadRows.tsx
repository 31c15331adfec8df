import type { LonLat } from "../../../../../shared/geo/plane.ts";
import type { Pad } from "../../../../../shared/model/field.ts";
import { drawWords } from "../../strings/draw.ts";
import { PlaceRows } from "./PlaceRows.tsx";

/** The pads of a field. */
export function PadRows({
  onAdd,
  onMove,
  onRemove,
  pads,
}: {
  readonly pads: readonly Pad[];
  readonly onAdd: () => void;
  readonly onMove: (pad: number, position: LonLat) => void;
  readonly onRemove: (pad: number) => void;
}) {
  return (
    <>
      {pads.length === 0 ? (
        <p>{drawWords.noPad}</p>
      ) : (
        <PlaceRows
          title={drawWords.pads}
          rows={pads.map(({ id, latDeg, lonDeg }, at) => ({
            key: id,
            short: id,
            name: drawWords.pad(id),
            at: [lonDeg, latDeg],
            isChosen: false,
            onMove: (to) => onMove(at, to),
            buttons: (
              <button type="button" aria-label={drawWords.removePad(id)} onClick={() => onRemove(at)}>
                {drawWords.remove}
              </button>
            ),
          }))}
        />
      )}
      <button type="button" onClick={onAdd}>
        {drawWords.addPad}
      </button>
    </>
  );
}
