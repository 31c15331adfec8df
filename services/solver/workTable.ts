import { gearOf } from "../../shared/fieldwork/flow.ts";
import { type WorkOutcome, workTimeOn } from "../../shared/fieldwork/workTime.ts";
import { quarters, type ReadySets } from "./charging.ts";
import { type Grounds, outfitInput, type WorkGround } from "./compileWork.ts";
import type { BlockWork, Signature, Signatures, WorkTable } from "./problem.ts";

interface Known extends BlockWork {
  readonly padIndex: number;
  /** Sets that the work takes one after the other; no more of them need to be full. With fuel 1: tanks that need no filling first. */
  readonly setsTaken: number;
}

const impossible: Known = {
  minutes: 0,
  padIndex: 0,
  setsTaken: 0,
  takenMin: 0,
  leftMin: 0,
  waitingSets: 0,
  flownMin: 0,
  hasFilled: false,
};

/** A table that another may take what it knows from. */
export interface KnownWork extends WorkTable {
  known(index: number, signature: number): Known;
}

/**
 * Minutes are worked out once for each ground and signature, and for each number of full sets that matters, when first asked for. `knownBefore` gives
 * what is known elsewhere of the same ground.
 */
export function createWorkTable(
  groundFor: Grounds,
  signatures: Signatures,
  grounds: readonly WorkGround[],
  knownBefore?: (index: number, signature: number) => Known | undefined,
): KnownWork {
  /** By the first signature alike, then ground. */
  const knownOf: (Known | undefined)[][] = [];
  /** By the first signature alike, then ground and number of full sets. */
  const knownWith: Map<number, Known>[] = [];

  const work = (index: number, signature: number, ready?: ReadySets, onlyPad?: number): WorkOutcome => {
    const kit = signatures.at(signature);
    const outfit = outfitInput(kit, grounds[index]!.order);
    const gear = gearOf(kit.type, outfit.method, outfit.densityKgPerL);
    if (gear === undefined) return { ok: false, limit: "method", actual: outfit.method, allowed: [] };
    const ground = groundFor(grounds[index]!, kit.type, gear);
    if (ready === undefined) return workTimeOn(ground, outfit, onlyPad);
    const asReady =
      kit.charge === null
        ? { refuelsFirst: ready.full === 0 }
        : { fullSets: ready.full, neededFrac: ready.neededQuarters / quarters };
    return workTimeOn(ground, { ...outfit, ...asReady }, onlyPad);
  };
  const know = (index: number, signature: number): Known => {
    const { alike } = signatures.at(signature);
    // Arrays without holes, which are read fastest.
    while (knownOf.length <= alike) knownOf.push([]);
    const known = knownOf[alike]!;
    if (known.length === 0) for (let each = 0; each < grounds.length; each++) known.push(undefined);
    known[index] ??= knownBefore?.(index, signature) ?? toKnown(work(index, signature), signatures.at(signature));
    return known[index];
  };
  const knowWith = (index: number, signature: number, ready: ReadySets): Known => {
    const all = know(index, signature);
    if (ready.full >= all.setsTaken) return all;
    const { alike, sets } = signatures.at(signature);
    knownWith[alike] ??= new Map();
    const known = knownWith[alike];
    const key = (index * (sets + 1) + ready.full) * quarters + ready.neededQuarters - 1;
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = toKnown(work(index, signature, ready, all.padIndex), signatures.at(signature));
    known.set(key, found);
    return found;
  };

  return {
    known: know,
    minutes: (index, signature) => know(index, signature).minutes,
    place: (index, signature) => grounds[index]!.padPlaces[know(index, signature).padIndex]!,
    workWith: knowWith,
    outcome: (index, signature, ready) => {
      const { setsTaken, padIndex } = know(index, signature);
      return ready === undefined || ready.full >= setsTaken
        ? work(index, signature)
        : work(index, signature, ready, padIndex);
    },
  };
}

function toKnown(outcome: WorkOutcome, { option, charge }: Signature): Known {
  if (!outcome.ok) return impossible;
  const { minutes, padIndex, changes, flownMin, chargeMin, waitingSets } = outcome;
  return {
    minutes,
    padIndex,
    setsTaken: charge === null ? 1 : option.count + changes,
    takenMin: chargeMin.taken,
    leftMin: chargeMin.left,
    waitingSets,
    flownMin,
    hasFilled: changes > 0,
  };
}
