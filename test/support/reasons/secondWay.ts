import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Conflict, Obstacle, ObstacleName, Plan } from "../../../shared/plan/plan.ts";
import { type Draft, goesWith, hasWord, type Relaxed, relax, relaxable } from "./relax.ts";

/** What was asked of the reasons of conflicts in another way, and how often it was so. */
export const claims = [
  "with nothing relaxed it does not fit",
  "with everything but one set relaxed it does not fit",
  "with one thing of that set relaxed too it fits",
  "with one thing of every set relaxed it fits",
  "with one thing of every set relaxed it fits, or what was not told appears",
  "what nothing keeps out alone fits alone",
  "beside the orders named it does not fit",
  "beside all but one of them it fits",
] as const;
export type Claim = (typeof claims)[number];
/** One claim about a conflict, to be planned afresh. */
export interface Question {
  readonly claim: Claim;
  readonly about: string;
  /** Undefined where it holds, else what was found instead. */
  ask(): string | undefined;
}

/** What a conflict claims, each to be judged by planning its order afresh in inputs without what it names. */
export function questionsOf(operation: Operation, plan: Plan, conflict: Conflict): Question[] {
  const { because, orderId, kind, sentence } = conflict;
  const alone = only(operation, [orderId]);
  const questions: Question[] = [];
  const ask: Ask = (claim, wanted, draft, about = []) => {
    if (draft === null) return;
    questions.push({
      claim,
      about: `${orderId} (${kind}: ${sentence}) ${about.map(nameOf).join(", ")}`,
      ask: () => {
        const left = leftOver(draft(), conflict);
        if ((left === null) === (wanted === "fits")) return undefined;
        return left === null ? "it fits" : `${left.kind}: ${left.sentence}`;
      },
    });
  };
  if (because === undefined) {
    ask("what nothing keeps out alone fits alone", "fits", () => alone);
    return questions;
  }
  if (because.sets.some((set) => set.some((one) => one.orderId !== undefined))) {
    askApart(operation, plan, conflict, ask);
    return questions;
  }
  ask("with nothing relaxed it does not fit", "doesNotFit", () => alone);
  const told = because.sets.flat();
  for (const set of because.sets) {
    if (!set.every(hasWord)) continue;
    ask(
      "with everything but one set relaxed it does not fit",
      "doesNotFit",
      () => everythingBut(alone, set, told),
      set,
    );
    for (const one of set) {
      const less = () => everythingBut(alone, set, "everything", one);
      ask("with one thing of that set relaxed too it fits", "fits", less, [one]);
    }
  }
  for (const pick of [0, 1]) {
    const ones = because.sets.map((set) => set[Math.min(pick, set.length - 1)]!);
    if (!ones.every(hasWord)) continue;
    const claim = because.hasMore
      ? "with one thing of every set relaxed it fits, or what was not told appears"
      : "with one thing of every set relaxed it fits";
    questions.push({
      claim,
      about: `${orderId} (${kind}: ${sentence}) ${ones.map(nameOf).join(", ")}`,
      ask: () => {
        const left = leftOver(without(alone, ones, []), conflict);
        const keys = because.sets.map(keyOf);
        const isNew = because.hasMore && (left?.because?.sets.every((set) => !keys.includes(keyOf(set))) ?? false);
        return left === null || isNew ? undefined : `${left.kind}: ${left.sentence}`;
      },
    });
  }
  return questions;
}

type Ask = (claim: Claim, wanted: "fits" | "doesNotFit", draft: () => Draft, about?: readonly Relaxed[]) => void;

/** Orders that it must keep apart from are locked where the plan has them. */
function askApart(operation: Operation, plan: Plan, conflict: Conflict, ask: Ask): void {
  ask("what nothing keeps out alone fits alone", "fits", () => only(operation, [conflict.orderId]));
  for (const set of conflict.because!.sets) {
    const others = set.flatMap(({ orderId }) => (orderId === undefined ? [] : [orderId]));
    const held = (orderIds: readonly string[]) => () => beside(operation, plan, conflict, orderIds);
    ask("beside the orders named it does not fit", "doesNotFit", held(others), set);
    for (const other of others) {
      ask("beside all but one of them it fits", "fits", held(others.filter((one) => one !== other)), set);
    }
  }
}

function beside(operation: Operation, plan: Plan, { orderId }: Conflict, others: readonly string[]): Draft {
  const draft = only(operation, [orderId, ...others]);
  const blocks = new Map(plan.blocks.map((block) => [block.id, block]));
  const stops = plan.crewDays.flatMap(({ crewId, date, activities }) =>
    activities.flatMap((activity) => {
      const block = activity.kind === "work" ? blocks.get(activity.blockId) : undefined;
      return block !== undefined && others.includes(block.orderId) && activity.kind === "work"
        ? [{ crewId, date, block, startAt: localOf(operation, activity.startMin) }]
        : [];
    }),
  );
  draft.locks = stops.map(({ crewId, date, block, startAt }) => ({
    crewId,
    date,
    stops: [{ orderId: block.orderId, part: block.part, parts: block.parts, startAt }],
    inOrder: false,
    nothingElse: false,
  })) as typeof draft.locks;
  return draft;
}

/** Local time as the inputs have it; tests have no change of clocks in their weeks. */
function localOf({ settings }: Operation, min: number): string {
  const at = new Date(Date.parse(`${settings.firstDay}T00:00Z`) + min * 60_000);
  return at.toISOString().slice(0, 16);
}

/** The operation with these orders alone, which pay for any way. */
function only(operation: Operation, orderIds: readonly string[]): Draft {
  const draft: Draft = structuredClone(operation);
  draft.orders = draft.orders.filter(({ id }) => orderIds.includes(id));
  for (const order of draft.orders) {
    order.priceCentsPerHa = 1e7;
    order.apartFrom = order.apartFrom.filter((apart) => orderIds.includes(apart.orderId));
  }
  for (const lock of draft.locks) lock.stops = lock.stops.filter((stop) => orderIds.includes(stop.orderId));
  return draft;
}

/**
 * Inputs in which only a set (less one of its things) stands in the order's way. Outfits stay as they are but for what is told of
 * them, or become as good as they may.
 */
function everythingBut(
  alone: Draft,
  set: readonly Obstacle[],
  outfits: "everything" | readonly Obstacle[],
  less?: Obstacle,
): Draft {
  const kept = set.filter((one) => one !== less);
  const keptNames = new Set(kept.map(({ limit }) => limit));
  const types = alone.fleet.aircraftTypes;
  const isTold = ({ limit, aircraftTypeId }: Relaxed) =>
    outfits === "everything" ||
    !ofOutfits.has(limit) ||
    outfits.some((one) => one.limit === limit && one.aircraftTypeId === aircraftTypeId);
  const isKept = (one: Relaxed) =>
    kept.some(({ limit, aircraftTypeId, sensitiveId }) => {
      const isSame = aircraftTypeId === one.aircraftTypeId || sensitiveId !== undefined;
      return limit === one.limit && isSame;
    });
  const rest = relaxable
    .filter((limit) => limit !== "aircraft" || outfits === "everything")
    .flatMap((limit): Relaxed[] =>
      perType.has(limit) ? types.map(({ id }) => ({ limit, aircraftTypeId: id })) : [{ limit }],
    )
    .filter((one) => isTold(one) && !isKept(one))
    .filter(({ limit }) => !(goesWith[limit] ?? []).some((other) => keptNames.has(other)));
  return without(alone, less === undefined ? rest : [...rest, less], [...keptNames]);
}

const ofOutfits: ReadonlySet<ObstacleName> = new Set([
  "range",
  "rating",
  "tender",
  "water",
  "sets",
  "chargers",
  "outOfService",
]);
const perType: ReadonlySet<ObstacleName> = new Set([
  ...(["method", "releaseHeight", "droplet", "slope", "rate", "range"] as const),
  ...(["aircraft", "rating", "tender", "sets", "chargers", "outOfService"] as const),
]);

function without(alone: Draft, all: readonly Relaxed[], kept: readonly ObstacleName[]): Draft {
  const draft: Draft = structuredClone(alone);
  const names = new Set(kept);
  for (const one of all) relax(draft, draft.orders[0]!, one, names);
  return draft;
}

/** What is left of the conflict's order; null when some of what the conflict was about is planned. */
function leftOver(draft: Draft, { orderId, blockIds, areaHa }: Conflict): Conflict | null {
  const plan = planOperation(draft, { seed: 1, random: createRandom(1), doneShare: (done) => done / 20 });
  const left = plan.conflicts.filter((conflict) => conflict.orderId === orderId);
  const found = left.find(({ blockIds: ids }) => ids.some((id) => blockIds.includes(id))) ?? left[0];
  if (found === undefined) return null;
  const out = left.flatMap((conflict) => conflict.blockIds);
  const isCutAgain = blockIds.every((id) => plan.blocks.some((block) => block.id === id));
  const leftHa = left.reduce((sum, conflict) => sum + conflict.areaHa, 0);
  // Cut into other blocks, it is so many hectares.
  const fitsInPart =
    areaHa > 0 && (isCutAgain ? blockIds.some((id) => !out.includes(id)) : leftHa < (1 - rounding) * areaHa);
  // Other blocks of a large order may take all of the hours.
  const isCrowdedOut = found.because === undefined && plan.score.servedHa > 0;
  return fitsInPart || isCrowdedOut ? null : found;
}

const rounding = 0.01;

function keyOf(set: readonly Obstacle[]): string {
  return set.map(nameOf).sort().join();
}

function nameOf({ limit, aircraftTypeId, sensitiveId }: Relaxed): string {
  return [limit, aircraftTypeId, sensitiveId].filter((part) => part !== undefined).join(" ");
}
