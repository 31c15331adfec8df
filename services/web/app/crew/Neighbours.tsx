import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";

/** Who and what has to be protected near the field, the nearest first. */
export function Neighbours({ stop: { neighbours } }: { readonly stop: SheetStop }) {
  const { lengthM } = useUnits();
  if (neighbours.length === 0) return <p>{words.noNeighbours}</p>;
  return (
    <table>
      <caption>{words.neighbours}</caption>
      <thead>
        <tr>
          <th scope="col">{words.placeHead}</th>
          <th scope="col">{words.awayHead}</th>
          <th scope="col">{words.bufferHead}</th>
        </tr>
      </thead>
      <tbody>
        {neighbours.map(({ bearingDeg, buffers, direction, distanceM, kind, name, sensitiveId }) => (
          <tr key={sensitiveId}>
            <th scope="row">
              {name} ({words.kind[kind]})
            </th>
            <td>
              {lengthM(distanceM)} {bearingDeg === null ? words.here : direction}
            </td>
            <td>
              {buffers.length === 0
                ? words.noBuffer
                : buffers
                    .map((buffer) =>
                      words.keepAway(
                        lengthM(buffer.distanceM),
                        buffer.onlyFinerThan,
                        buffer.downwindOnly,
                        buffer.productName,
                      ),
                    )
                    .join("; ")}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
