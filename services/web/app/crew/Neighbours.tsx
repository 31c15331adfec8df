import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { measuresOf } from "../../../../shared/plan/measures.ts";
import { crewWords as words } from "../strings/crew.ts";
import { type UnitWords, useUnits } from "../units/units.ts";

type Neighbour = SheetStop["neighbours"][number];

/** Who and what has to be protected near the field, the nearest first. */
export function Neighbours({ stop: { neighbours } }: { readonly stop: SheetStop }) {
  const units = useUnits();
  return (
    <section>
      <h3>{words.neighbours}</h3>
      {neighbours.length === 0 ? (
        <p>{words.noNeighbours}</p>
      ) : (
        <ul className="neighbours">
          {neighbours.map((neighbour) => (
            <li key={neighbour.sensitiveId}>
              <b>{neighbour.name}</b> ({words.kind[neighbour.kind]}), {whereWords(neighbour, units)}
              <br />
              {bufferWords(neighbour, units)}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

const whereWords = ({ bearingDeg, direction, distanceM }: Neighbour, { lengthM }: UnitWords): string =>
  bearingDeg === null ? words.here : words.away(lengthM(distanceM), direction);

function bufferWords({ buffers }: Neighbour, { system }: UnitWords): string {
  // Never rounded to less than the label asks for.
  const { keep } = measuresOf[system];
  if (buffers.length === 0) return words.noBuffer;
  return buffers
    .map(({ distanceM, downwindOnly, onlyFinerThan, productName }) =>
      words.keepAway(keep(distanceM), onlyFinerThan, downwindOnly, productName),
    )
    .join(" ");
}
