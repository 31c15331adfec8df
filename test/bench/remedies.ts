import { planOperation } from "../../services/solver/planOperation.ts";
import { createRandom } from "../../services/solver/random.ts";
import { changedBy } from "../../services/solver/remedies/tryChanges.ts";
import type { Remedy } from "../../shared/cases/remedy.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { stopsOf, sumOf } from "../../shared/plan/totals.ts";
import { remediesOf } from "../support/remediesOf.ts";
import { tightOperation } from "../support/tightOperation.ts";

export interface RemediesOptions {
  readonly from: number;
  readonly seeds: number;
  /** Of the present plan and of each plan afresh. */
  readonly iterations: number;
  /** Of each search from the present plan. */
  readonly warm: number;
}

/** Our choice: so many of the remedies told hold when the week is planned afresh. */
const wantedShare = 0.95;
/** Hectares that blocks cut otherwise may differ by. */
const slackHa = 0.2;

interface Sums {
  remedies: number;
  work: number;
  claimedHa: number;
  realisedHa: number;
}

/**
 * Tight operations: every block that is not planned has a reason, and every remedy told is made to the input, which is then planned afresh, the best of two seeds, and held against the best of two
 * without it. Fails when a block has no reason, a plan breaks a rule, or too few remedies hold.
 */
export async function benchRemedies({ from, seeds, iterations, warm }: RemediesOptions): Promise<boolean> {
  const all: Sums = { remedies: 0, work: 0, claimedHa: 0, realisedHa: 0 };
  const byKind = new Map<string, Sums>();
  const sums = { blocks: 0, reasonless: 0, groups: 0, helped: 0, tried: 0, screened: 0, faults: 0 };
  for (let seed = from; seed < from + seeds; seed++) {
    const operation = tightOperation(seed);
    const bases = [1, 2].map((one) => afresh(operation, one, iterations));
    const base = cheapest(bases);
    const unplanned = unplannedOf(base);
    const explained = new Set<string>(base.conflicts.flatMap(({ blockIds }) => blockIds));
    sums.blocks += unplanned.length;
    sums.reasonless += unplanned.filter((id) => !explained.has(id)).length;
    if (!checkPlan(operation, base).ok) sums.faults++;
    const { groups } = await remediesOf({ operation, plan: base, seed: 1, iterations: warm });
    for (const { remedies, tried, screened } of groups) {
      sums.groups++;
      sums.helped += remedies.length > 0 ? 1 : 0;
      sums.tried += tried;
      sums.screened += screened;
      for (const remedy of remedies) {
        const changed = changedBy(operation, remedy.changes)!;
        const plan = cheapest([1, 2].map((one) => afresh(changed, one, iterations)));
        if (!checkPlan(changed, plan).ok) sums.faults++;
        const realisedHa = servedHa(plan, remedy) - servedHa(base, remedy);
        const works = realisedHa >= remedy.haWon - slackHa;
        const kind = remedy.changes[0]!.kind;
        const some = byKind.get(kind) ?? { remedies: 0, work: 0, claimedHa: 0, realisedHa: 0 };
        byKind.set(kind, some);
        for (const sum of [all, some]) {
          sum.remedies++;
          sum.work += works ? 1 : 0;
          sum.claimedHa += remedy.haWon;
          sum.realisedHa += realisedHa;
        }
        if (!works)
          console.log(
            `seed ${seed}: ${realisedHa.toFixed(1)} ha of ${remedy.haWon.toFixed(1)}, plan ${plan.score.totalCents} after ${base.score.totalCents}: ${remedy.sentence}`,
          );
      }
    }
  }
  const share = all.remedies === 0 ? 0 : all.work / all.remedies;
  console.log(
    `${seeds} operations from ${from}: ${sums.blocks} blocks not planned, ${sums.reasonless} without a reason`,
  );
  console.log(
    `${sums.groups} groups, ${sums.helped} with remedies; ${sums.tried} changes tried, ${sums.screened} screened`,
  );
  for (const [kind, some] of [...byKind, ["in all", all] as const]) console.log(`${kind}: ${words(some)}`);
  console.log(`${sums.faults} plans that the checker refuses`);
  return sums.reasonless === 0 && sums.faults === 0 && share >= wantedShare;
}

function words({ remedies, work, claimedHa, realisedHa }: Sums): string {
  const mean = (sum: number) => (sum / remedies).toFixed(2);
  return `${remedies} remedies, ${work} hold (${((100 * work) / remedies).toFixed(1)} %), claimed ${mean(claimedHa)} ha, realised ${mean(realisedHa)} ha on average`;
}

function afresh(operation: Operation, seed: number, iterations: number): Plan {
  return planOperation(operation, { seed, random: createRandom(seed), doneShare: (done) => done / iterations });
}

function cheapest(plans: readonly Plan[]): Plan {
  return plans.reduce((best, next) => (next.score.totalCents < best.score.totalCents ? next : best));
}

function unplannedOf(plan: Plan): string[] {
  const planned = new Set<string>(stopsOf(plan).map(({ block }) => block.id));
  return plan.blocks.filter(({ id }) => !planned.has(id)).map(({ id }) => id);
}

function servedHa(plan: Plan, { orderIdsWon }: Remedy): number {
  const won = new Set<string>(orderIdsWon);
  return sumOf(
    stopsOf(plan).filter(({ block }) => won.has(block.orderId)),
    ({ block }) => block.areaHa,
  );
}
