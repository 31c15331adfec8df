import { areaM2 } from "../../geo/area.ts";
import { difference, intersection, union } from "../../geo/clip.ts";
import { toAreaXY } from "../../geo/convert.ts";
import { distanceM, distanceToShapeM } from "../../geo/distance.ts";
import type { AreaXY } from "../../geo/plane.ts";
import type { Block } from "../plan.ts";
import type { Facts, Mix } from "./facts.ts";
import { type Ledger, shown } from "./report.ts";
import { hectares, type Terrain } from "./terrain.ts";

/** Less ground than this is nothing left to treat. */
const nothingHa = 0.05;
/** How far the areas of an order's blocks may add up to something else than its treated area. */
const areaShare = 0.005;
/** Positions with 7 decimals lie up to 8 mm off; a boundary may be off by twice that on either side. */
const boundarySlackM = 0.03;
/** The rounded corner of a buffer is drawn by chords up to 10 mm inside the true arc, on top of the positions' rounding. */
const bufferSlackM = 0.1;
const leastSlackM2 = 1;

/** The rules about what ground is treated and how it is cut into blocks. */
export function checkGround(facts: Facts, ledger: Ledger, terrain: Terrain): void {
  for (const mix of facts.mixes.values()) {
    const blocks = facts.blocksOfOrder.get(mix.order.id) ?? [];
    checkSplit(ledger, mix, blocks);
    for (const block of blocks) checkNumbers(ledger, block, blocks);
    checkShapes(ledger, terrain, mix, blocks);
  }
}

function checkSplit(ledger: Ledger, { order }: Mix, blocks: readonly Block[]): void {
  if (order.maySplit) return;
  ledger.expect("orderSplit", blocks.length <= 1, { orderId: order.id }, () => ({
    sentence: `order ${order.id} may not be split, it has ${blocks.length} blocks`,
    actual: blocks.length,
    allowed: 1,
  }));
}

function checkNumbers(ledger: Ledger, block: Block, blocks: readonly Block[]): void {
  const isNumbered =
    block.id === `${block.orderId}#${block.part}` &&
    block.parts === blocks.length &&
    block.part <= block.parts &&
    blocks.filter((other) => other.part === block.part).length === 1;
  ledger.expect("blockNumbers", isNumbered, { orderId: block.orderId, blockId: block.id }, () => ({
    sentence: `block ${block.id} says part ${block.part} of ${block.parts}, order ${block.orderId} has ${blocks.length} blocks`,
    actual: `${block.part} of ${block.parts}`,
    allowed: `1 to ${blocks.length} of ${blocks.length}, each once`,
  }));
}

function checkShapes(ledger: Ledger, terrain: Terrain, mix: Mix, blocks: readonly Block[]): void {
  const treated = terrain.treated(mix);
  const treatedHa = hectares(treated);
  const orderId = mix.order.id;
  const isSomethingLeft = treatedHa >= nothingHa * (1 - areaShare);
  ledger.expect("treatedArea", isSomethingLeft || blocks.length === 0, { orderId }, () => ({
    sentence: `buffers leave ${shown(treatedHa)} ha of order ${orderId}, which is nothing to treat`,
    actual: treatedHa,
    allowed: nothingHa,
  }));
  const shapes: AreaXY[] = [];
  for (const block of blocks) {
    const shape = checkGeometry(ledger, terrain, mix, block);
    if (shape === undefined) continue;
    checkInside(ledger, terrain, mix, block, shape, treated);
    for (const earlier of shapes) checkOverlap(ledger, block, shape, earlier);
    shapes.push(shape);
  }
  if (blocks.length === 0) return;
  const blocksHa = blocks.reduce((sum, block) => sum + block.areaHa, 0);
  ledger.expect("blockAreas", Math.abs(blocksHa - treatedHa) <= areaShare * treatedHa, { orderId }, () => ({
    sentence: `the blocks of order ${orderId} add up to ${shown(blocksHa)} ha, its treated area is ${shown(treatedHa)} ha`,
    actual: blocksHa,
    allowed: treatedHa,
  }));
}

/** The block's ground in the field's plane, or undefined when its rings cannot be measured. */
function checkGeometry(ledger: Ledger, terrain: Terrain, mix: Mix, block: Block): AreaXY | undefined {
  const subject = { orderId: block.orderId, blockId: block.id };
  const rings = block.geometry.coordinates.flat();
  const isClosed =
    rings.length > 0 &&
    rings.every((ring) => {
      const first = ring[0];
      const last = ring.at(-1);
      return ring.length >= 4 && first !== undefined && first[0] === last?.[0] && first[1] === last[1];
    });
  ledger.expect("blockGeometry", isClosed, subject, () => ({
    sentence: `block ${block.id} has a ring that is not closed or has fewer than four positions`,
  }));
  if (!isClosed) return undefined;

  const shape = toAreaXY(terrain.field(mix).plane, block.geometry);
  // Rings that cross, or overlap, or holes that lie outside: the sum of the rings is not the ground that they cover.
  const ringsM2 = areaM2(shape);
  const coveredM2 = areaM2(union([shape]));
  const isSound = coveredM2 > 0 && Math.abs(ringsM2 - coveredM2) <= slackM2(shape);
  ledger.expect("blockGeometry", isSound, subject, () => ({
    sentence: `the rings of block ${block.id} cross or overlap: they add up to ${shown(ringsM2)} m², they cover ${shown(coveredM2)} m²`,
    actual: ringsM2,
    allowed: coveredM2,
  }));
  const measuredHa = hectares(shape);
  ledger.expect("blockAreas", Math.abs(block.areaHa - measuredHa) <= areaShare * measuredHa, subject, () => ({
    sentence: `block ${block.id} is said to have ${shown(block.areaHa)} ha, its geometry has ${shown(measuredHa)} ha`,
    actual: block.areaHa,
    allowed: measuredHa,
  }));
  return isSound ? shape : undefined;
}

function checkInside(ledger: Ledger, terrain: Terrain, mix: Mix, block: Block, shape: AreaXY, treated: AreaXY): void {
  const subject = { orderId: block.orderId, blockId: block.id };
  const outsideM2 = areaM2(difference(shape, treated));
  ledger.expect("treatedArea", outsideM2 <= slackM2(shape), subject, () => ({
    sentence: `${shown(outsideM2)} m² of block ${block.id} lie outside the treated area`,
    actual: outsideM2,
    allowed: slackM2(shape),
  }));
  // The same by distance, without the buffers' outlines.
  for (const { place, shape: placeShape, keptM } of terrain.keptPlaces(mix, "keepsFree")) {
    const nearM = distanceToShapeM(shape, placeShape);
    ledger.expect("buffer", nearM >= keptM - bufferSlackM, subject, () => ({
      sentence: `block ${block.id} comes within ${shown(nearM)} m of ${place.properties.name}, ${shown(keptM)} m are kept`,
      actual: nearM,
      allowed: keptM,
    }));
  }
}

function checkOverlap(ledger: Ledger, block: Block, shape: AreaXY, earlier: AreaXY): void {
  const sharedM2 = areaM2(intersection(shape, earlier));
  const allowedM2 = Math.min(slackM2(shape), slackM2(earlier));
  ledger.expect("blockOverlap", sharedM2 <= allowedM2, { orderId: block.orderId, blockId: block.id }, () => ({
    sentence: `block ${block.id} shares ${shown(sharedM2)} m² with another block of its order`,
    actual: sharedM2,
    allowed: allowedM2,
  }));
}

/** Ground that rounded positions may add or lose along the boundary. */
function slackM2(shape: AreaXY): number {
  const lengthM = shape
    .flat()
    .flatMap((ring) => ring.map((point, index) => distanceM(point, ring[(index + 1) % ring.length]!)))
    .reduce((sum, edgeM) => sum + edgeM, 0);
  return Math.max(leastSlackM2, lengthM * boundarySlackM);
}
