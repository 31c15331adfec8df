import { blockLeastHa, longest, windowShare } from "../compileBlocks.ts";
import { anySlot } from "../locks.ts";
import type { Problem } from "../problem.ts";

/** What of a block has to be worked in one go: an order that may be split was not cut where nothing could work it, and would be if something could. */
export function pieceOf({ blocks, orders, blocksOfOrder, operation, locks }: Problem, block: number) {
  const { areaHa, waterL, order, ground } = blocks[block]!;
  const { maySplit } = orders[order]!.order;
  const isUncut = blocksOfOrder[order]!.filter((other) => blocks[other]!.ground === ground).length === 1;
  const isLocked = locks.slotOf[block] !== anySlot;
  if (!maySplit || !isUncut || isLocked || areaHa <= blockLeastHa)
    return { isUncut: false, waterL, minutes: (wholeMin: number) => wholeMin };
  const least = blockLeastHa / areaHa;
  return {
    isUncut: true,
    waterL: waterL * least,
    minutes: (wholeMin: number, slowestMin: number, windows: Int32Array) => {
      const wantedMin = Math.min(operation.settings.planning.blockMaxMin, windowShare * longest(windows));
      return Math.ceil(wholeMin * Math.min(1, Math.max(least, wantedMin / slowestMin)));
    },
  };
}
