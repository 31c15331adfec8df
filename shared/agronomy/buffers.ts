import type { Order } from "../model/order.ts";
import type { Buffer, Product } from "../model/product.ts";
import { type DropletClass, dropletClasses } from "../model/quantities.ts";

export interface ProductBuffer extends Buffer {
  readonly productId: Product["id"];
}

/** The buffers that hold for one order: of each kind of place the widest that a label asks for. */
export interface Buffers {
  /** Kept always. */
  readonly fixed: readonly ProductBuffer[];
  /** While the wind blows towards the place, the whole field waits. */
  readonly stopping: readonly ProductBuffer[];
  /** While the wind blows towards the place, the ground within the distance waits. */
  readonly sparing: readonly ProductBuffer[];
}

export function buffersOf(order: Order, labels: readonly Product[]): Buffers {
  const sprayed = sprayedClass(order, labels);
  const inForce = labels.flatMap(({ id, buffers }) =>
    buffers
      .filter(({ onlyFinerThan }) => onlyFinerThan === undefined || isFiner(sprayed, onlyFinerThan))
      .map((buffer): ProductBuffer => ({ ...buffer, productId: id })),
  );
  const downwind = inForce.filter(({ downwindOnly }) => downwindOnly);
  // An order that is done in one piece has no part to spare.
  const isSparing = ({ downwindRule }: Buffer) => order.maySplit && downwindRule === "sparesPart";
  return {
    fixed: widestOfKind(inForce.filter(({ downwindOnly }) => !downwindOnly)),
    stopping: widestOfKind(downwind.filter((buffer) => !isSparing(buffer))),
    sparing: widestOfKind(downwind.filter(isSparing)),
  };
}

/** The order's class, or else the finest that no label forbids. */
function sprayedClass(order: Order, labels: readonly Product[]): DropletClass {
  if (order.dropletClass) return order.dropletClass;
  const finest = Math.max(
    0,
    ...labels.map(({ dropletFinest }) => (dropletFinest ? dropletClasses.indexOf(dropletFinest) : 0)),
  );
  return dropletClasses[finest]!;
}

/** Droplet classes are listed from the finest. */
function isFiner(one: DropletClass, other: DropletClass): boolean {
  return dropletClasses.indexOf(one) < dropletClasses.indexOf(other);
}

function widestOfKind(buffers: readonly ProductBuffer[]): ProductBuffer[] {
  const widest = new Map<Buffer["kind"], ProductBuffer>();
  for (const buffer of buffers) {
    if (buffer.distanceM > (widest.get(buffer.kind)?.distanceM ?? 0)) widest.set(buffer.kind, buffer);
  }
  return [...widest.values()];
}

export function widestM(buffers: readonly ProductBuffer[]): number {
  return Math.max(0, ...buffers.map(({ distanceM }) => distanceM));
}
