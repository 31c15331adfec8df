import type { WeekView } from "../../../../../shared/plan/weekView.ts";

/** What people call the blocks of a plan: their fields, with the part where there are several. */
export function blockNamesOf(week: Pick<WeekView, "crews">): ReadonlyMap<string, string> {
  return new Map(
    week.crews.flatMap(({ days }) =>
      days.flatMap(({ crewDay }) =>
        (crewDay?.stops ?? []).map(({ blockId, fieldName, part, parts }) => [
          blockId,
          parts > 1 ? `${fieldName} (part ${part} of ${parts})` : fieldName,
        ]),
      ),
    ),
  );
}

const blockId = /[\p{L}\p{N}_.-]+#\d+/gu;

/** Sentences of the planner name blocks by their ids, which nobody knows by heart. */
export function withFieldNames(sentence: string, names: ReadonlyMap<string, string>): string {
  return sentence.replace(blockId, (id) => names.get(id) ?? id);
}
