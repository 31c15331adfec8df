import type { CrewSheet } from "../../../../shared/plan/crewSheet.ts";
import type { DayMap } from "../../../../shared/plan/dayMap.ts";
import type { TimelineRow } from "../../../../shared/plan/timeline.ts";
import { inUnits } from "../../../../shared/units/inUnits.ts";
import { crewWords as words } from "../strings/crew.ts";
import { type UnitWords, useUnits } from "../units/units.ts";
import { amountWords } from "./amounts.ts";
import { clockOn } from "./clockWords.ts";
import { loadsOf } from "./stands.ts";

/** Every drive, refill, set-up and work of the day, one after the other. */
export function Timeline({ map, sheet }: { readonly sheet: CrewSheet; readonly map: DayMap | null }) {
  const units = useUnits();
  return (
    <details className="fold">
      <summary>{words.timeline}</summary>
      <table className="dayOrder">
        <thead>
          <tr>
            <th scope="col">{words.timeHead}</th>
            <th scope="col">{words.whatHead}</th>
            <th scope="col">{words.tenderHead}</th>
          </tr>
        </thead>
        <tbody>
          {sheet.timeline.map((row, at) => (
            <tr key={`${row.start.min} ${row.kind}`}>
              <td>{clockOn(row.start, sheet.date)}</td>
              <td>
                {row.words}
                <small>
                  {detailsOf(row, sheet.timeline[at - 1], sheet, map, units)
                    .map((detail) => inUnits(detail, units))
                    .join(", ")}
                </small>
              </td>
              <td>{amountWords(row.tenderL, "L", units.system)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

/** What comes with a row, in the units that were chosen. */
function detailsOf(
  row: TimelineRow,
  before: TimelineRow | undefined,
  sheet: CrewSheet,
  map: DayMap | null,
  units: UnitWords,
): readonly string[] {
  if (row.kind === "drive") {
    const drive = map?.route.find(({ start }) => start.min === row.start.min);
    return drive ? [units.roadKm(drive.km)] : row.details;
  }
  if (row.kind === "refill" || row.kind === "cleanOut") {
    return before ? [amountWords(Math.abs(row.tenderL - before.tenderL), "L", units.system)] : row.details;
  }
  if (row.kind !== "work") return row.details;
  const stops = sheet.stops.filter(({ start }) => start.min >= row.start.min && start.min < row.end.min);
  const sum = (of: (stop: (typeof stops)[number]) => number) => stops.reduce((total, stop) => total + of(stop), 0);
  const changes = sum(({ batteryChanges }) => batteryChanges);
  return [
    units.areaHa(sum(({ areaHa }) => areaHa)),
    words.loads(sum(loadsOf)),
    ...(changes > 0 ? [words.batteryChanges(changes)] : []),
  ];
}
