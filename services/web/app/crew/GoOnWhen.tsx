import type { StopReason } from "../../../../shared/done/workReport.ts";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { clockOn } from "./clockWords.ts";
import { spansOf, spanWords } from "./siteLimitWords.ts";

/** What must hold before a stop that was stopped goes on, by why it was stopped. */
export function GoOnWhen({
  date,
  reason,
  stop,
}: {
  readonly stop: SheetStop;
  readonly reason: StopReason;
  readonly date: string;
}) {
  const { system } = useUnits();
  const { siteLimits, window } = stop;
  const winds = spansOf(siteLimits.limits)
    .filter(({ measure }) => measure === "wind" || measure === "gust")
    .map(({ limits, measure }) => `${words.measure[measure].toLowerCase()} ${spanWords(limits, system)}`);
  const must = reason === "wind" && winds.length > 0 ? words.goOnWind(winds.join(", ")) : words.goOnWhen[reason];
  return (
    <p className="goOnWhen">
      {must} {window === null ? words.windowNone : words.windowUntil(clockOn(window.to, date))}
    </p>
  );
}
