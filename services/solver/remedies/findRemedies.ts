import type { GroupRemedies, Remedies, Remedy } from "../../../shared/cases/remedy.ts";
import { remedySentence } from "../../../shared/cases/remedyWords.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { found, indexBy, sumOf, valuesPerHa } from "../../../shared/plan/totals.ts";
import type { Candidate } from "./candidate.ts";
import { candidatesFor } from "./candidates.ts";
import { type Claim, claimOf, type OrderFacts } from "./claim.ts";
import { type ConflictGroup, groupConflicts } from "./groups.ts";
import { servedByOrder, type Tried, type TryTask } from "./tryChanges.ts";

export interface RemediesAsk {
  readonly operation: Operation;
  /** The present plan, which the checker has passed. */
  readonly plan: Plan;
  readonly seed: number;
  /** Of each search. */
  readonly iterations: number;
  /** Only the groups of this order. */
  readonly orderId?: string;
}

/** Tries tasks, in threads or one after the other; null for those that there was no time for. The answers stand in the order of the tasks. */
export type TryAll = (tasks: readonly TryTask[]) => Promise<readonly (Tried | null)[]>;

/** Our choice: remedies told of a group, how many more are tried a second time in case some of those fall, and candidates of a group that are tried at all. */
const mostTold = 5;
const mostSpare = 3;
const mostTried = 14;

/**
 * Remedies by group. Each candidate is planned with from the present plan; those that win something are once more, with another seed, and what then is left is twice more, by longer searches that may find a better use for the change. What all of these win over all searches without it is claimed. So nothing is credited to a remedy that the search would find anyway, or finds by luck.
 */
export async function findRemedies(ask: RemediesAsk, tryAll: TryAll): Promise<Remedies> {
  const { operation, plan, seed, iterations } = ask;
  const groups = groupConflicts(operation, plan)
    .filter(({ orderIds }) => ask.orderId === undefined || orderIds.some((id) => id === ask.orderId))
    .map((group) => ({ group, candidates: candidatesFor(operation, plan, group) }));
  const trials = createTrials(tryAll);
  const facts = factsOf(operation, plan);
  const rounds: readonly Round[] = [
    { seed, isLong: false, go: mostTried },
    { seed: seed + 1, isLong: false, go: mostTold + mostSpare },
    { seed: seed + 2, isLong: true, go: mostTold },
    { seed: seed + 3, isLong: true, go: mostTold },
  ];
  const bases = await trials.all(
    groups.length === 0
      ? []
      : rounds.map((round) => ({ changes: [], seed: round.seed, screen: null, without: round.isLong ? [] : null })),
  );

  const claimIn = (group: ConflictGroup, candidate: Candidate, until: number) => {
    const tried = rounds.slice(0, until).map((round) => trials.of(taskOf(group, candidate, round)));
    return claimOf(group, facts, bases.slice(0, until), tried);
  };
  let hopeful: readonly (readonly Candidate[])[] = groups.map(({ candidates }) => candidates);
  const isUnended = (group: ConflictGroup, candidate: Candidate, round: Round) =>
    trials.of(taskOf(group, candidate, round)) === null;
  const unended: ReadonlySet<Candidate>[] = groups.map(() => new Set());
  for (const [at, round] of rounds.entries()) {
    const going = hopeful.map((candidates) => candidates.slice(0, round.go));
    await trials.all(groups.flatMap(({ group }, of) => going[of]!.map((candidate) => taskOf(group, candidate, round))));
    for (const [of, { group }] of groups.entries())
      unended[of] = new Set([...unended[of]!, ...going[of]!.filter((candidate) => isUnended(group, candidate, round))]);
    hopeful = groups.map(({ group }, of) =>
      going[of]!.flatMap((candidate) => {
        const claim = claimIn(group, candidate, at + 1);
        return claim === null ? [] : [{ candidate, claim }];
      })
        .sort((a, b) => byWorth(a.claim, b.claim))
        .map(({ candidate }) => candidate),
    );
  }
  return {
    operationName: operation.settings.name,
    seed,
    iterations,
    groups: groups.map(({ group, candidates }, of): GroupRemedies => {
      const outcomes = candidates
        .slice(0, mostTried)
        .filter((candidate) => !unended[of]!.has(candidate))
        .map((candidate) => trials.of(taskOf(group, candidate, rounds[0]!)));
      const { conflicts, ...words } = group;
      return {
        group: words,
        remedies: hopeful[of]!.map((candidate) =>
          remedyOf(operation, candidate, claimIn(group, candidate, rounds.length)!),
        ),
        tried: outcomes.filter((tried) => tried?.status === "planned").length,
        screened: outcomes.filter((tried) => tried?.status === "fitsNobody").length,
        leftOut: candidates.length - outcomes.length,
      };
    }),
  };
}

/** All that still have hope are tried again, the best so many of them. */
interface Round {
  readonly seed: number;
  readonly isLong: boolean;
  readonly go: number;
}

/** Where hours are short every block fits alone; there only a plan can tell. */
function taskOf(group: ConflictGroup, { change }: Candidate, { seed, isLong }: Round): TryTask {
  const fitsAlready =
    group.kind === "notEnoughHours" && group.conflicts.some(({ evidence }) => evidence.fitsAlone !== false);
  return {
    changes: [change],
    seed,
    screen: fitsAlready ? null : group.orderIds,
    without: isLong ? group.orderIds : null,
  };
}

function factsOf(operation: Operation, plan: Plan): OrderFacts {
  const perHa = valuesPerHa(operation);
  const orders = indexBy(operation.orders, ({ id }) => id);
  return {
    presentHa: servedByOrder(plan),
    worthOf: (won) => sumOf(won, ({ orderId, areaHa }) => areaHa * perHa(found(orders, orderId))),
    isMandatory: (orderId) => found(orders, orderId).priority === "mandatory",
  };
}

function remedyOf(operation: Operation, { change, askGrower }: Candidate, claim: Claim): Remedy {
  const facts = { changes: [change], askGrower, ...claim };
  return { ...facts, sentence: remedySentence(operation, facts) };
}

function byWorth(a: Pick<Claim, "netCents" | "haWon">, b: Pick<Claim, "netCents" | "haWon">): number {
  return b.netCents - a.netCents || b.haWon - a.haWon;
}

/** The same task, as of a tender for two groups, is tried once. */
function createTrials(tryAll: TryAll) {
  const known = new Map<string, Tried | null>();
  const keyOf = (task: TryTask) => JSON.stringify(task);
  const of = (task: TryTask): Tried | null => known.get(keyOf(task)) ?? null;
  return {
    of,
    async all(tasks: readonly TryTask[]): Promise<readonly (Tried | null)[]> {
      const open = [...new Map(tasks.map((task) => [keyOf(task), task])).values()].filter(
        (task) => !known.has(keyOf(task)),
      );
      const tried = await tryAll(open);
      for (const [at, task] of open.entries()) known.set(keyOf(task), tried[at]!);
      return tasks.map(of);
    },
  };
}
