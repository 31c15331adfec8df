import type { ConflictView } from "../../../../../shared/plan/weekOrders.ts";
import { moveWords as words } from "../../strings/moves.ts";
import { useUnits } from "../../units/units.ts";
import type { MoveAsk } from "./MoveDialog.tsx";

/** Puts what is left out onto the board by hand, part by part: pressed, or dragged onto a crew's day. */
export function PutIn({
  conflict: { blocks, fieldName },
  onAsk,
}: {
  readonly conflict: Pick<ConflictView, "blocks" | "fieldName">;
  readonly onAsk: (move: MoveAsk) => void;
}) {
  const units = useUnits();
  if (blocks.length === 0) return null;
  return (
    <p className="buttons">
      {blocks.map(({ areaHa, blockId, part, parts }) => {
        const deed = parts > 1 ? words.putPartIn(part, parts, units.areaHa(areaHa)) : words.putIn;
        return (
          <button
            key={blockId}
            type="button"
            className="putIn"
            data-block={blockId}
            aria-label={words.putInOf(deed, fieldName)}
            onClick={() => onAsk({ blockId })}
            onKeyDown={({ altKey, ctrlKey, key, metaKey }) => {
              // As on the board, where it takes up a stop.
              if (key.toLowerCase() === "m" && !altKey && !ctrlKey && !metaKey) onAsk({ blockId });
            }}
          >
            {deed}
          </button>
        );
      })}
    </p>
  );
}
