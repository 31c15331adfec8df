import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { moveWords as words } from "../../strings/moves.ts";

/** What people call the blocks of a plan and those that it leaves out: their fields, with the part where there are several. */
export function blockNamesOf({ conflicts, crews }: Pick<WeekView, "conflicts" | "crews">): ReadonlyMap<string, string> {
  const stops = crews.flatMap(({ days }) => days.flatMap(({ crewDay }) => crewDay?.stops ?? []));
  const left = conflicts.flatMap(({ blocks, fieldName }) => blocks.map((block) => ({ ...block, fieldName })));
  return new Map(
    [...stops, ...left].map(({ blockId, fieldName, part, parts }) => [
      blockId,
      parts > 1 ? words.partOf(fieldName, part, parts) : fieldName,
    ]),
  );
}

const blockId = /[\p{L}\p{N}_.-]+#\d+/gu;

/** Sentences of the planner name blocks by their ids, which nobody knows by heart. */
export function withFieldNames(sentence: string, names: ReadonlyMap<string, string>): string {
  return sentence.replace(blockId, (id) => names.get(id) ?? id);
}
