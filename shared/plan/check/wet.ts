import { minutesPerHour } from "../../model/calendar.ts";
import type { Facts, Stop } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";
import type { Step } from "./sky.ts";
import { firstUncovered, type Span, shareMinute } from "./spans.ts";

/** Rain before and during a stretch of work against what canopy and ground bear. */
export function checkWet({ calendar }: Facts, ledger: Ledger, stop: Stop, span: Span, steps: readonly Step[]): void {
  const { waitAfterRainMm, waitAfterRainHours, id } = stop.mix.order;
  if (waitAfterRainMm === undefined || waitAfterRainHours === undefined) return;
  const backMin = waitAfterRainHours * minutesPerHour - rounding;
  // The looks back of all minutes of the stretch, joined.
  const openMin = firstUncovered({ fromMin: span.fromMin - backMin, toMin: span.toMin }, steps);
  ledger.expect("wet", openMin === undefined, stop.subject, () => ({
    sentence: `order ${id} waits ${waitAfterRainHours} h after rain, and nothing tells of the rain from ${calendar.isoOfMin(Math.floor(openMin! + rounding))}`,
    actual: calendar.isoOfMin(Math.floor(openMin! + rounding)),
  }));
  // The sum grows only in a minute in which a step begins; in between it can but shrink.
  const begins = steps.map((step) => step.fromMin).filter((min) => min > span.fromMin && min < span.toMin);
  for (const min of [span.fromMin, ...begins]) {
    const counted = { fromMin: min - backMin, toMin: min + 1 };
    const rainMm = steps.filter((step) => shareMinute(step, counted)).reduce((sum, { step }) => sum + step.rainMm, 0);
    ledger.expect("wet", rainMm < waitAfterRainMm - rounding, stop.subject, () => ({
      sentence: `${shown(rainMm)} mm of rain in the ${waitAfterRainHours} h up to ${calendar.isoOfMin(min)}, order ${id} waits from ${waitAfterRainMm} mm`,
      actual: rainMm,
      allowed: waitAfterRainMm,
    }));
  }
}
