import type { Agronomy } from "../agronomy/agronomy.ts";
import { withoutRainAhead } from "../agronomy/why.ts";
import { type LocalTime, localTimeOf } from "./localTime.ts";
import type { PlanIndex } from "./planIndex.ts";
import { askedFor } from "./sheetWindow.ts";
import type { Stop } from "./totals.ts";

/** A pause of a work as people read it. */
export interface PauseView {
  readonly start: LocalTime;
  readonly end: LocalTime;
  readonly minutes: number;
  /** What stops the work as it begins, in sentences; none when the forecast would let it go on. */
  readonly because: readonly string[];
}

/** The agronomy is asked for only where a work pauses. */
export function pausesOf(index: PlanIndex, agronomyOf: () => Agronomy, stop: Stop): PauseView[] {
  const { pauses = [] } = stop.work;
  return pauses.map(({ startMin, endMin }) => {
    const agronomy = agronomyOf();
    const order = index.order(stop.block.orderId);
    const asked = askedFor(index, agronomy, stop, order);
    const judgements = index
      .typesOf(stop)
      .flatMap((type) => withoutRainAhead(agronomy.judge(order, type, startMin, asked)));
    return {
      start: localTimeOf(index.calendar, startMin),
      end: localTimeOf(index.calendar, endMin),
      minutes: endMin - startMin,
      because: [...new Set(judgements.map(({ sentence }) => sentence))],
    };
  });
}
