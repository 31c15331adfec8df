import { geometryCentroidLonLat } from "../../../shared/geo/convert.ts";
import type { Buffer } from "../../../shared/model/product.ts";
import type { SensitiveId } from "../../../shared/model/quantities.ts";
import type { Block } from "../../../shared/plan/plan.ts";
import { type Draft, type DraftStop, type Mutation, mutation, onStop, pick, pickInt } from "./mutation.ts";

function onBlock(rule: Mutation["rule"], name: string, change: (draft: Draft, block: Block) => boolean): Mutation {
  return mutation(rule, name, (draft) => {
    const block = pick(draft, draft.plan.blocks);
    return block !== undefined && change(draft, block);
  });
}

/** Two different blocks of one order. */
function blockPair(draft: Draft): [Block, Block] | undefined {
  const { blocks } = draft.plan;
  const pairs = blocks.flatMap((a) =>
    blocks.filter((b) => b !== a && b.orderId === a.orderId).map((b): [Block, Block] => [a, b]),
  );
  return pick(draft, pairs);
}

/** Every position of the block drawn towards or away from its middle, and moved. */
function redraw(block: Block, scale: number, eastDeg: number, northDeg: number): void {
  const [lonDeg, latDeg] = geometryCentroidLonLat(block.geometry);
  for (const ring of block.geometry.coordinates.flat()) {
    for (const position of ring) {
      position[0] = lonDeg + (position[0] - lonDeg) * scale + eastDeg;
      position[1] = latDeg + (position[1] - latDeg) * scale + northDeg;
    }
  }
}

/** A sensitive place in the middle of a worked block, with a buffer that one of the order's labels keeps. */
function placeInBlock(draft: Draft, stop: DraftStop, condition: Pick<Buffer, "onlyFinerThan">): boolean {
  const [lonDeg, latDeg] = geometryCentroidLonLat(stop.block.geometry);
  draft.operation.sensitive.features.push({
    type: "Feature",
    geometry: { type: "Point", coordinates: [lonDeg, latDeg] },
    properties: { id: "INSIDE" as SensitiveId, kind: "organic", name: "Herb garden", radiusM: pickInt(draft, 0, 30) },
  });
  pick(draft, stop.products)!.buffers.push({
    kind: "organic",
    distanceM: pickInt(draft, 100, 200),
    downwindOnly: false,
    downwindRule: "stopsField",
    ...condition,
  });
  return true;
}

export const groundMutations: readonly Mutation[] = [
  onBlock("blockNumbers", "one part too many", (draft, block) => {
    block.parts += pickInt(draft, 1, 3);
    return true;
  }),
  onBlock("blockNumbers", "another part's number", (draft, block) => {
    block.part += pickInt(draft, 1, 3);
    return true;
  }),
  onBlock("blockGeometry", "a ring that is not closed", (draft, block) => {
    pick(draft, block.geometry.coordinates.flat())!.pop();
    return true;
  }),
  onBlock("blockGeometry", "a ring that runs around twice", (draft, block) => {
    const ring = pick(draft, block.geometry.coordinates)![0]!;
    ring.push(...structuredClone(ring.slice(1)));
    return true;
  }),
  onBlock("blockGeometry", "a polygon drawn twice", (draft, block) => {
    block.geometry.coordinates.push(structuredClone(pick(draft, block.geometry.coordinates)!));
    return true;
  }),
  onBlock("blockGeometry", "a hole beside the block", (draft, block) => {
    const hole = structuredClone(pick(draft, block.geometry.coordinates)![0]!);
    for (const position of hole) position[0] += 0.2;
    block.geometry.coordinates[0]!.push(hole);
    return true;
  }),
  onBlock("treatedArea", "block moved over the edge", (draft, block) => {
    const side = draft.random() < 0.5 ? -1 : 1;
    // One of several blocks has to go farther to leave the field for certain.
    const byDeg = block.parts === 1 ? 0.0005 + 0.004 * draft.random() : 0.05;
    redraw(block, 1, side * byDeg, (draft.random() - 0.5) * byDeg);
    return true;
  }),
  onBlock("treatedArea", "block drawn larger", (draft, block) => {
    redraw(block, 1.05 + draft.random(), 0, 0);
    return true;
  }),
  onStop("treatedArea", "a place inside the block", (draft, stop) => placeInBlock(draft, stop, {})),
  onStop("buffer", "a place inside the block", (draft, stop) => placeInBlock(draft, stop, {})),
  onStop("buffer", "a place inside the block, and droplets fine enough to keep away from it", (draft, stop) => {
    stop.order.dropletClass = "M";
    return placeInBlock(draft, stop, { onlyFinerThan: "C" });
  }),
  onBlock("blockAreas", "more hectares than drawn", (draft, block) => {
    block.areaHa *= 1.01 + draft.random();
    return true;
  }),
  onBlock("blockAreas", "fewer hectares than drawn", (draft, block) => {
    block.areaHa *= 0.99 - draft.random() * 0.5;
    return true;
  }),
  onBlock("blockAreas", "drawn smaller, and said so", (draft, block) => {
    const scale = 0.99 - draft.random() * 0.5;
    if (draft.plan.blocks.filter((other) => other.orderId === block.orderId).length > 5) return false;
    redraw(block, 0.9 * scale, 0, 0);
    block.areaHa *= (0.9 * scale) ** 2;
    return true;
  }),
  mutation("blockOverlap", "two blocks on the same ground", (draft) => {
    const pair = blockPair(draft);
    if (pair === undefined) return false;
    pair[1].geometry = structuredClone(pair[0].geometry);
    return true;
  }),
  mutation("blockOverlap", "one block laid half over another", (draft) => {
    const pair = blockPair(draft);
    if (pair === undefined) return false;
    pair[1].geometry = structuredClone(pair[0].geometry);
    redraw(pair[1], 0.5 + 0.5 * draft.random(), 0, 0);
    return true;
  }),
  mutation("orderSplit", "an order in blocks that may not be split", (draft) => {
    const pair = blockPair(draft);
    if (pair === undefined) return false;
    draft.operation.orders.find((order) => order.id === pair[0].orderId)!.maySplit = false;
    return true;
  }),
];
