import { inUnits } from "../../../../../shared/units/inUnits.ts";
import type { UnitSystem } from "../../../../../shared/units/units.ts";
import { shortDayWords } from "../../kit/dates.ts";

/** What a change is called, as people read it: a day by its name, amounts in the units that were chosen. */
export function changeWordsIn(words: string, system: UnitSystem): string {
  const told = inUnits(
    words.replace(/\d{4}-\d\d-\d\d/g, (date) => shortDayWords(date)),
    { system },
  );
  return `${told.slice(0, 1).toUpperCase()}${told.slice(1)}`;
}
