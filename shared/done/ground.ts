import type { Block } from "../plan/plan.ts";

/** FNV-1a, 32 bits, over UTF-16 code units, each as its low and high byte. */
export function fnv1a32(text: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    hash = Math.imul(hash ^ (unit & 0xff), 0x01000193);
    if (unit > 0xff) hash = Math.imul(hash ^ (unit >>> 8), 0x01000193);
  }
  return hash >>> 0;
}

/**
 * Names the ground of a block, so that it is known again where another plan has the same block. Plans may cut an order otherwise and use its blocks' ids again. Our choice: it is the same ground
 * only if every corner is; blocks are cut alike from the same inputs.
 */
export function groundOf({ areaHa, geometry }: Pick<Block, "areaHa" | "geometry">): string {
  return `${areaHa.toFixed(4)}-${fnv1a32(JSON.stringify(geometry.coordinates)).toString(16).padStart(8, "0")}`;
}
