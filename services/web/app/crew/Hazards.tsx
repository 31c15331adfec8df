import { useId } from "react";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { measuresOf } from "../../../../shared/plan/measures.ts";
import { hazardWords as words } from "../strings/hazards.ts";
import { useUnitSystem } from "../units/units.ts";

/** What an aircraft could fly into at a stop, nearest to the field first, and when somebody last looked: what a pilot asks for before all else. */
export function Hazards({ date, stop }: { readonly stop: SheetStop; readonly date: string }) {
  const titleId = useId();
  const measures = measuresOf[useUnitSystem()];
  return (
    <section className="notice" aria-labelledby={titleId}>
      <p>
        <b id={titleId}>{words.title}:</b> {words.caution(stop, date)}
      </p>
      {stop.hazards.length > 0 && (
        <ul>
          {stop.hazards.map((hazard) => (
            <li key={hazard.hazardId}>
              <b>{words.name(hazard, measures)}</b>, {words.place(hazard, measures)}
              {hazard.note !== "" && <>: {hazard.note}</>}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
