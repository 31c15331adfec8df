import type { Operation } from "../../shared/model/operation.ts";
import type { Block, PublishedStop } from "../../shared/plan/plan.ts";
import { type ChangeWeights, takesPlaceOf } from "../../shared/plan/published.ts";

/** Where blocks were published, and what another place costs. Arrays are by block. */
export interface Published {
  readonly stops: readonly PublishedStop[];
  /** The slot; `notPublished`, or `noSlot` where the crew no longer works on that day. */
  readonly slot: Int32Array;
  readonly startMin: Float64Array;
  readonly weights: ChangeWeights;
}

const notPublished = -2;
const noSlot = -1;

export function compilePublished(
  { fleet, settings }: Operation,
  dates: readonly string[],
  slots: readonly { readonly crew: number; readonly day: number }[],
  blocks: readonly Block[],
  stops: readonly PublishedStop[],
): Published {
  const before = takesPlaceOf(stops, blocks);
  const slotOf = new Map(slots.map(({ crew, day }, slot) => [`${fleet.crews[crew]!.id} ${dates[day]}`, slot]));
  const published: Published = {
    stops,
    slot: new Int32Array(blocks.length).fill(notPublished),
    startMin: new Float64Array(blocks.length),
    weights: settings.planning,
  };
  blocks.forEach(({ id }, index) => {
    const stop = before.get(id);
    if (stop === undefined) return;
    published.slot[index] = slotOf.get(`${stop.crewId} ${stop.date}`) ?? noSlot;
    published.startMin[index] = stop.startMin;
  });
  return published;
}

/** For leaving a block out. */
export function droppedCents({ slot, weights }: Published, block: number): number {
  return slot[block] === notPublished ? 0 : weights.changeDroppedCents;
}

/** For working a block in a slot, whenever that is. */
export function movedCents(published: Published, block: number, slot: number): number {
  const before = published.slot[block]!;
  return before === notPublished || before === slot ? 0 : published.weights.changeCrewDayCents;
}

/** For working a block in a slot from a minute on. */
export function changedCents(published: Published, block: number, slot: number, startMin: number): number {
  const { weights } = published;
  if (published.slot[block] !== slot) return movedCents(published, block, slot);
  return Math.abs(startMin - published.startMin[block]!) > weights.changeStartToleranceMin
    ? weights.changeStartCents
    : 0;
}
