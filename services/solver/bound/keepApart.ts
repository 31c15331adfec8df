import type { Apart, Problem } from "../problem.ts";

/** Work on these blocks in these slots: of all of them no more than the capacity, each counted with its amount. */
export interface Exclusion {
  readonly capacity: number;
  readonly blocks: readonly number[];
  readonly slots: readonly (readonly number[])[];
  readonly amounts: readonly number[];
}

/** Minutes between which a block can be worked in a slot, by any aircraft of the crew, and how long at least. */
interface Reach {
  readonly slot: number;
  readonly fromMin: number;
  readonly toMin: number;
  readonly leastMin: number;
}

/** Orders that cannot be worked in two slots both, because they must keep apart for longer than the slots are, and most of a season. */
export function everyExclusion(problem: Problem, leastMinutes: (block: number, slot: number) => number): Exclusion[] {
  const isOpen = new Set(problem.open);
  const exclusions: Exclusion[] = [];
  const seen = new Set<string>();
  problem.orders.forEach(({ apart }, order) => {
    for (const rule of apart) {
      if (rule.order < order) continue;
      for (const a of problem.blocksOfOrder[order]!.filter((block) => isOpen.has(block))) {
        for (const b of problem.blocksOfOrder[rule.order]!.filter((block) => isOpen.has(block))) {
          for (const slots of clashes(
            problem,
            reaches(problem, a, leastMinutes),
            reaches(problem, b, leastMinutes),
            rule,
          )) {
            const key = [a, b, ...slots.map((list) => list.join())].join(" ");
            if (seen.has(key)) continue;
            seen.add(key);
            exclusions.push({ capacity: 1, blocks: [a, b], slots, amounts: [1, 1] });
          }
        }
      }
    }
  });
  for (const { orders, amounts, maxCount, maxAmount } of problem.seasonLimits) {
    const some = orders.map((order) => problem.blocksOfOrder[order]!.find((block) => isOpen.has(block)));
    const within = orders.map((_, at) => at).filter((at) => some[at] !== undefined);
    const blocks = within.map((at) => some[at]!);
    const slots = blocks.map((block) => problem.slotsOfBlock[block]!);
    if (within.length > Math.max(0, maxCount)) {
      exclusions.push({ capacity: Math.max(0, maxCount), blocks, slots, amounts: within.map(() => 1) });
    }
    const taken = within.map((at) => amounts[at]!);
    const mostAmount = Math.max(0, maxAmount) + 1e-9;
    if (taken.reduce((sum, amount) => sum + amount, 0) > mostAmount) {
      exclusions.push({ capacity: mostAmount, blocks, slots, amounts: taken });
    }
  }
  return exclusions;
}

function reaches(problem: Problem, block: number, leastMinutes: (block: number, slot: number) => number): Reach[] {
  const { windows, types, crews, options, slots } = problem;
  const { ground } = problem.blocks[block]!;
  return problem.slotsOfBlock[block]!.flatMap((slot) => {
    const { crew, shiftFromMin, shiftToMin } = slots[slot]!;
    let fromMin = Number.POSITIVE_INFINITY;
    let toMin = Number.NEGATIVE_INFINITY;
    for (const { type } of options[crew]!) {
      const night = types[type]!.nightCapable && crews[crew]!.nightWork ? 1 : 0;
      const list = windows[(ground * types.length + type) * 2 + night] ?? new Int32Array();
      for (let w = 0; w < list.length; w += 2) {
        const open = Math.max(list[w]!, shiftFromMin);
        const close = Math.min(list[w + 1]!, shiftToMin);
        if (open >= close) continue;
        fromMin = Math.min(fromMin, open);
        toMin = Math.max(toMin, close);
      }
    }
    return fromMin < toMin ? [{ slot, fromMin, toMin, leastMin: leastMinutes(block, slot) }] : [];
  });
}

/** Pairs of sets of slots, as large as can be, of which no slot of the one goes with any of the other. */
function clashes(problem: Problem, ofA: readonly Reach[], ofB: readonly Reach[], rule: Apart): number[][][] {
  const clash = (a: Reach, b: Reach) => !canFollow(problem, a, b, rule) && !canFollow(problem, b, a, rule);
  const days = [...new Set(ofA.map(({ slot }) => problem.slots[slot]!.day))].sort((a, b) => a - b);
  const found: number[][][] = [];
  for (const first of days) {
    for (const last of days) {
      if (last < first) continue;
      const some = ofA.filter(({ slot }) => problem.slots[slot]!.day >= first && problem.slots[slot]!.day <= last);
      const others = ofB.filter((b) => some.every((a) => clash(a, b)));
      if (others.length === 0) continue;
      const all = ofA.filter((a) => others.every((b) => clash(a, b)));
      found.push([all.map(({ slot }) => slot), others.map(({ slot }) => slot)]);
    }
  }
  return found;
}

/** Whether the later work can be far enough from the earlier one. */
function canFollow({ calendar }: Problem, earlier: Reach, later: Reach, { days, minutes }: Apart): boolean {
  const endMin = earlier.fromMin + earlier.leastMin;
  const startMin = later.toMin - later.leastMin;
  if (startMin < endMin || startMin - endMin < minutes) return false;
  const dayOf = (min: number) => {
    const day = calendar.dayOfMin(min);
    return day < 0 ? calendar.dates.length : day;
  };
  return dayOf(startMin) - dayOf(endMin - 1) >= days;
}
