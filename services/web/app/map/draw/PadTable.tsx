import type { LonLat } from "../../../../../shared/geo/plane.ts";
import type { Pad } from "../../../../../shared/model/field.ts";
import { drawWords } from "../../strings/draw.ts";
import { DegreesInput } from "./DegreesInput.tsx";

export function PadTable({
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
        <div className="scroller">
          <table>
            <caption>{drawWords.pads}</caption>
            <thead>
              <tr>
                <th scope="col">{drawWords.padColumn}</th>
                <th scope="col">{drawWords.latitude}</th>
                <th scope="col">{drawWords.longitude}</th>
                <th scope="col">{drawWords.change}</th>
              </tr>
            </thead>
            <tbody>
              {pads.map(({ id, latDeg, lonDeg }, at) => (
                <tr key={id}>
                  <th scope="row">{id}</th>
                  <td>
                    <DegreesInput
                      label={drawWords.latitudeOf(drawWords.pad(id))}
                      mostDeg={90}
                      valueDeg={latDeg}
                      onChange={(angleDeg) => onMove(at, [lonDeg, angleDeg])}
                    />
                  </td>
                  <td>
                    <DegreesInput
                      label={drawWords.longitudeOf(drawWords.pad(id))}
                      mostDeg={180}
                      valueDeg={lonDeg}
                      onChange={(angleDeg) => onMove(at, [angleDeg, latDeg])}
                    />
                  </td>
                  <td>
                    <button type="button" aria-label={drawWords.removePad(id)} onClick={() => onRemove(at)}>
                      {drawWords.remove}
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <button type="button" onClick={onAdd}>
        {drawWords.addPad}
      </button>
    </>
  );
}
