import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { clockAt } from "./clockWords.ts";
import { judgeAir } from "./measuredAir.ts";
import { type DayReport, takenBack } from "./stands.ts";
import { Verdict } from "./Verdict.tsx";

/** What was last measured at the stop, and whether it stops the work. */
export function LastMeasured({
  altitudeM,
  reports,
  stop,
  timeZone,
}: {
  readonly stop: SheetStop;
  readonly reports: readonly DayReport[];
  readonly altitudeM: number;
  readonly timeZone: string;
}) {
  const { system } = useUnits();
  const back = takenBack(reports);
  const last = reports
    .filter(({ report, state }) => state !== "refused" && !back.has(report.id))
    .flatMap(({ report }) => (report.kind === "conditions" && report.blockId === stop.blockId ? [report] : []))
    .at(-1);
  if (last === undefined) return null;
  return (
    <section aria-label={words.lastMeasured(clockAt(last.at, timeZone))}>
      <h3>{words.lastMeasured(clockAt(last.at, timeZone))}</h3>
      <Verdict verdict={judgeAir(last.air, stop.siteLimits, altitudeM, system)} />
    </section>
  );
}
