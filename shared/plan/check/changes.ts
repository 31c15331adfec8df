import { areaM2 } from "../../geo/area.ts";
import { intersection } from "../../geo/clip.ts";
import { toAreaXY } from "../../geo/convert.ts";
import type { Block, PublishedStop } from "../plan.ts";
import type { Facts } from "./facts.ts";
import type { Terrain } from "./terrain.ts";

/** What blocks cost that were published otherwise: by crew and day, by the minute at which they begin, or that are left out now. */
export function changesOf(facts: Facts, terrain: Terrain): number {
  const { plan, operation, stops } = facts;
  const { planning } = operation.settings;
  if (plan.published === undefined) return 0;
  const stopOf = new Map(stops.map((stop) => [stop.block.id, stop]));
  let cents = 0;
  for (const block of plan.blocks) {
    const before = publishedFor(facts, terrain, block);
    if (before === undefined) continue;
    const stop = stopOf.get(block.id);
    if (stop === undefined) cents += planning.changeDroppedCents;
    else if (stop.day.crewDay.crewId !== before.crewId || stop.day.crewDay.date !== before.date)
      cents += planning.changeCrewDayCents;
    else if (Math.abs(stop.work.startMin - before.startMin) > planning.changeStartToleranceMin)
      cents += planning.changeStartCents;
  }
  return cents;
}

/** DEVELOPERS.md, What is planned. */
const mostShare = 0.505;

/** The published stop of the block's order on most of the block's ground. */
function publishedFor({ plan, mixes }: Facts, terrain: Terrain, block: Block): PublishedStop | undefined {
  const mix = mixes.get(block.orderId);
  const ofOrder = (plan.published ?? []).filter(({ orderId }) => orderId === block.orderId);
  if (mix === undefined || ofOrder.length === 0) return undefined;
  const ground = terrain.block(mix, block);
  const { plane } = terrain.field(mix);
  const sharedM2 = ({ geometry }: PublishedStop) => areaM2(intersection(ground, toAreaXY(plane, geometry)));
  return ofOrder.find((stop) => sharedM2(stop) > mostShare * areaM2(ground));
}
