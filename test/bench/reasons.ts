import { planOperation } from "../../services/solver/planOperation.ts";
import { createRandom } from "../../services/solver/random.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { type Claim, claims, questionsOf } from "../support/reasons/secondWay.ts";
import { tightOperation } from "../support/reasons/tightOperation.ts";

/** Reasons that are told and not confirmed, at most. */
const mostUnconfirmed = 0.01;

/**
 * Plan tight operations and ask of every conflict all that its reasons claim, by planning its order afresh in inputs without what they name. Fails when more than one in
 * a hundred is not confirmed, or a plan is broken.
 */
export function benchReasons(from: number, seeds: number, iterations: number): boolean {
  const tallies = new Map<Claim, { asked: number; held: number }>();
  const byLimit = new Map<string, number>();
  const byKind = new Map<string, number>();
  let breaches = 0;
  let unexplained = 0;
  for (let seed = from; seed < from + seeds; seed++) {
    const operation = tightOperation(seed);
    const doneShare = (done: number) => done / iterations;
    const plan = planOperation(operation, { seed: 1, random: createRandom(1), doneShare });
    breaches += checkPlan(operation, plan).breaches.length;
    const named = new Set(plan.conflicts.flatMap(({ blockIds }) => blockIds));
    const worked = new Set(
      plan.crewDays.flatMap(({ activities }) =>
        activities.flatMap((activity) => (activity.kind === "work" ? [activity.blockId] : [])),
      ),
    );
    unexplained += plan.blocks.filter(({ id }) => !worked.has(id) && !named.has(id)).length;
    for (const conflict of plan.conflicts) {
      byKind.set(conflict.kind, (byKind.get(conflict.kind) ?? 0) + 1);
      for (const { limit } of conflict.because?.sets.flat() ?? []) byLimit.set(limit, (byLimit.get(limit) ?? 0) + 1);
      for (const { claim, about, ask } of questionsOf(operation, plan, conflict)) {
        const found = ask();
        const { asked, held } = tallies.get(claim) ?? { asked: 0, held: 0 };
        tallies.set(claim, { asked: asked + 1, held: held + (found === undefined ? 1 : 0) });
        if (found !== undefined) console.log(`seed ${seed}: not so: ${claim}: ${about}; found: ${found}`);
      }
    }
  }
  for (const claim of claims) {
    const { asked, held } = tallies.get(claim) ?? { asked: 0, held: 0 };
    console.log(`${String(held).padStart(6)} of ${String(asked).padStart(6)}  ${claim}`);
  }
  const all = [...tallies.values()].reduce(
    (sum, { asked, held }) => ({ asked: sum.asked + asked, held: sum.held + held }),
    { asked: 0, held: 0 },
  );
  const share = ((100 * all.held) / all.asked).toFixed(2);
  console.log(`${String(all.held).padStart(6)} of ${String(all.asked).padStart(6)}  in all, ${share} %`);
  console.log(`conflicts: ${counts(byKind)}`);
  console.log(`named in sets: ${counts(byLimit)}`);
  console.log(`${unexplained} blocks without a reason, ${breaches} breaches`);
  return all.asked > 0 && 1 - all.held / all.asked <= mostUnconfirmed && breaches + unexplained === 0;
}

function counts(tally: ReadonlyMap<string, number>): string {
  return [...tally]
    .sort((a, b) => b[1] - a[1])
    .map(([name, count]) => `${name} ${count}`)
    .join(", ");
}
