import type { Agronomy, NightWork } from "../agronomy/agronomy.ts";
import { areaM2 } from "../geo/area.ts";
import { intersection } from "../geo/clip.ts";
import { toAreaXY } from "../geo/convert.ts";
import type { Order } from "../model/order.ts";
import { type LocalTime, localTimeOf } from "./localTime.ts";
import type { PlanIndex } from "./planIndex.ts";
import { type Stop, stretchesOf } from "./totals.ts";

/** The window that the work lies in, by the forecast that was planned with; of a work that pauses, from the first to the last. */
export interface SheetWindow {
  readonly from: LocalTime;
  readonly to: LocalTime;
  /** What ends it, in sentences; none when the horizon ends first. */
  readonly endsBecause: readonly string[];
}

/** Share of a block in the near part that is rounding of the cut. */
const roundingShare = 0.01;

/** The block lies in the part of its order that downwind buffers leave alone. */
function isRest(agronomy: Agronomy, { block }: Stop, order: Order): boolean {
  const near = agronomy.parts(order).find(({ part }) => part === "near");
  if (near === undefined) return false;
  const ground = toAreaXY(agronomy.treatedArea(order).plane, block.geometry);
  return areaM2(intersection(ground, near.area)) < roundingShare * areaM2(ground);
}

/** For whom and for which ground the minutes of a stop are judged. */
export function askedFor(index: PlanIndex, agronomy: Agronomy, stop: Stop, order: Order): NightWork {
  const night = index.crew(stop.crewDay.crewId).nightWork;
  return isRest(agronomy, stop, order) ? { night, rest: true } : { night };
}

/** The hours around the stop in which every type at work may work; null when the forecast has changed since. */
export function sheetWindow(index: PlanIndex, agronomy: Agronomy, stop: Stop, order: Order): SheetWindow | null {
  const { calendar } = index;
  const types = index.typesOf(stop);
  const asked = askedFor(index, agronomy, stop, order);
  const stretches = stretchesOf(stop.work).map((stretch) =>
    types.map((type) =>
      agronomy
        .windows(order, type, asked)
        .windows.find(({ startMin, endMin }) => startMin <= stretch.startMin && endMin >= stretch.endMin),
    ),
  );
  const around = stretches.map((windows) => windows.filter((window) => window !== undefined));
  if (around.some((windows) => windows.length < types.length)) return null;
  const startMin = Math.max(...around[0]!.map((window) => window.startMin));
  const endMin = Math.min(...around.at(-1)!.map((window) => window.endMin));
  const judgements = types.flatMap((type) =>
    endMin < calendar.horizonMin ? agronomy.judge(order, type, endMin, asked) : [],
  );
  return {
    from: localTimeOf(calendar, startMin),
    to: localTimeOf(calendar, endMin),
    endsBecause: [...new Set(judgements.map(({ sentence }) => sentence))],
  };
}
