import type { GroupRemedies, Remedies, Remedy } from "../../../shared/cases/remedy.ts";
import { remedySentence } from "../../../shared/cases/remedyWords.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { OrderId } from "../../../shared/model/quantities.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import type { Candidate } from "./candidate.ts";
import { candidatesFor } from "./candidates.ts";
import { type Claim, claimOf } from "./claim.ts";
import { type ConflictGroup, groupConflicts } from "./groups.ts";
import type { Tried, TryTask } from "./tryChanges.ts";

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
const mostTried = 40;

/**
 * Remedies by group. Each candidate is planned with from the present plan, and those that win something once more with another seed; what both win over both searches without it is claimed. So
 * nothing is credited to a remedy that the search would find anyway, or finds by luck.
 */
export async function findRemedies(ask: RemediesAsk, tryAll: TryAll): Promise<Remedies> {
  const { operation, plan, seed, iterations } = ask;
  const groups = groupConflicts(operation, plan)
    .filter(({ orderIds }) => ask.orderId === undefined || orderIds.some((id) => id === ask.orderId))
    .map((group) => ({ group, candidates: candidatesFor(operation, plan, group) }));
  const seeds = [seed, seed + 1];
  const trials = createTrials(tryAll);
  const bases = await trials.all(
    groups.length === 0 ? [] : seeds.map((one) => ({ changes: [], seed: one, screen: null })),
  );

  const first = groups.map(({ group, candidates }) =>
    candidates.slice(0, mostTried).map((candidate) => taskOf(group, candidate, seeds[0]!)),
  );
  await trials.all(first.flat());
  const hopeful = groups.map(({ group, candidates }) =>
    candidates
      .slice(0, mostTried)
      .map((candidate) => ({ candidate, tried: trials.of(taskOf(group, candidate, seeds[0]!)) }))
      .flatMap(({ candidate, tried }) => {
        const claim = claimOf(group, bases.slice(0, 1), [tried]);
        return claim === null ? [] : [{ candidate, claim }];
      })
      .sort((a, b) => byWorth(a.claim, b.claim))
      .slice(0, mostTold + mostSpare),
  );
  await trials.all(
    groups.flatMap(({ group }, at) => hopeful[at]!.map(({ candidate }) => taskOf(group, candidate, seeds[1]!))),
  );
  return {
    operationName: operation.settings.name,
    seed,
    iterations,
    groups: groups.map(({ group, candidates }, at): GroupRemedies => {
      const told = hopeful[at]!.flatMap(({ candidate }): Remedy[] => {
        const claim = claimOf(
          group,
          bases,
          seeds.map((one) => trials.of(taskOf(group, candidate, one))),
        );
        return claim === null ? [] : [remedyOf(operation, candidate, claim)];
      });
      const outcomes = first[at]!.map((task) => trials.of(task));
      const { conflicts, ...words } = group;
      return {
        group: words,
        remedies: told.sort(byWorth).slice(0, mostTold),
        tried: outcomes.filter((tried) => tried?.status === "planned").length,
        screened: outcomes.filter((tried) => tried?.status === "fitsNobody").length,
        leftOut: candidates.length - outcomes.filter((tried) => tried !== null).length,
      };
    }),
  };
}

/** Where hours are short every block fits alone; there only a plan can tell. */
function taskOf(group: ConflictGroup, { change }: Candidate, seed: number): TryTask {
  const fitsAlready =
    group.kind === "notEnoughHours" && group.conflicts.some(({ evidence }) => evidence.fitsAlone !== false);
  return { changes: [change], seed, screen: fitsAlready ? null : group.orderIds };
}

function remedyOf(operation: Operation, { change, askGrower }: Candidate, claim: Claim): Remedy {
  const facts = { changes: [change], askGrower, ...claim, orderIdsWon: claim.orderIdsWon as OrderId[] };
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
