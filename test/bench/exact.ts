import { loadHighs } from "../../services/linear/highs.ts";
import { polishWith } from "../../services/solver/polish.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { contestedOperation } from "../support/exact/contestedOperation.ts";
import { isInReach, waysOfPutting } from "../support/exact/inReach.ts";
import {
  dearerCents,
  judged,
  type Optimum,
  optimumOf,
  overlooked,
  roundingCents,
  searched,
} from "../support/exact/judge.ts";
import { leftOut, servedCents } from "../support/exact/leftOut.ts";
import { differences, type Missing, missingIn } from "../support/exact/missing.ts";
import { timed } from "./measure.ts";

export interface ExactOptions {
  readonly from: number;
  readonly seeds: number;
  readonly iterations: number;
  /** Searches of each operation, with seeds of their own. */
  readonly runs: number;
  readonly polish: boolean;
}

/** Our choice: so many of a hundred searches end at the optimum. */
const wantedShare = 0.98;

/**
 * The best plans of small operations, known exactly, beside what the search finds. Fails when a plan is better than the best, when the checker finds anything in either, or when too few searches
 * end at the best. What keeps a search from it is told for each.
 */
export async function benchExact({ from, seeds, iterations, runs, polish }: ExactOptions): Promise<boolean> {
  const linear = await loadHighs();
  const held = new Map<string, number>();
  const missing = new Map<Missing, number>();
  const outOfReach = new Map(waysOfPutting.map((way) => [way, 0]));
  const sums = { searches: 0, equal: 0, shareOff: 0, worstShare: 0, faults: 0, crewDays: 0, walked: 0, routes: 0 };
  const served = { alike: 0, leftOut: 0, never: 0, forcedCents: 0 };
  const ms = { exact: 0, search: 0 };
  const fault = (seed: number, sentence: string) => {
    sums.faults++;
    console.log(`seed ${seed}: ${sentence}`);
  };
  for (let seed = from; seed < from + seeds; seed++) {
    const { operation, roster } = contestedOperation(seed);
    let optimum!: Optimum;
    ms.exact += timed(() => {
      optimum = optimumOf(operation, linear);
    });
    const { problem, days, choice, state: best } = optimum;
    sums.walked += days.walked;
    sums.routes += days.routes.length;
    if (Math.abs(dearerCents(optimum, best)) > roundingCents) fault(seed, "the best plan costs other than its routes");
    const { plan, breaches } = judged(problem, best);
    for (const breach of breaches) fault(seed, `best plan: ${breach}`);
    for (const what of whatIsIn(plan)) held.set(what, (held.get(what) ?? 0) + 1);
    problem.slots.forEach((_, slot) => {
      if (best.count[slot] === 0) return;
      sums.crewDays++;
      for (const way of waysOfPutting) {
        if (!isInReach(problem, best, slot, way)) outOfReach.set(way, outOfReach.get(way)! + 1);
      }
    });
    for (let run = 0; run < runs; run++) {
      ms.search += timed(() => {
        const state = searched(problem, {
          seed: seed + 1000 * run,
          iterations,
          ...(polish ? { polish: polishWith(linear, undefined) } : {}),
        });
        sums.searches++;
        if (Math.abs(servedCents(optimum, state) - servedCents(optimum, best)) <= roundingCents) served.alike++;
        const offCents = dearerCents(optimum, state);
        for (const breach of judged(problem, state).breaches) fault(seed, `search: ${breach}`);
        if (offCents < -roundingCents) fault(seed, `better than the best by ${-offCents} cents`);
        for (const slot of overlooked(optimum, state))
          fault(seed, `slot ${slot} gains more than any route that was found`);
        if (offCents <= roundingCents) {
          sums.equal++;
          return;
        }
        sums.shareOff += offCents / choice.totalCents;
        sums.worstShare = Math.max(sums.worstShare, offCents / choice.totalCents);
        const lacks = missingIn(optimum, linear, state);
        missing.set(lacks, (missing.get(lacks) ?? 0) + 1);
        console.log(`seed ${seed}, ${roster.name}: ${percent(offCents / choice.totalCents)} off; lacks: ${lacks}`);
        for (const line of differences(problem, state, best)) console.log(`  ${line}`);
      });
    }
    for (const { block, forcedCents } of leftOut(optimum, linear, best)) {
      served.leftOut++;
      if (forcedCents === Number.POSITIVE_INFINITY) served.never++;
      else served.forcedCents += forcedCents;
      if (forcedCents < -roundingCents) fault(seed, `block ${block} is left out and would gain ${-forcedCents} cents`);
    }
    if ((seed - from + 1) % 10 === 0) console.error(`${seed - from + 1} of ${seeds}`);
  }
  const { searches, equal, shareOff, worstShare, faults, crewDays, walked, routes } = sums;
  console.log(
    `${seeds} operations, ${walked} orders of stops walked, ${routes} routes kept, ${(ms.exact / seeds / 1000).toFixed(1)} s each; best plans hold: ${tally(held)}`,
  );
  console.log(
    `${searches} searches of ${iterations} iterations, ${(ms.search / searches / 1000).toFixed(1)} s each: ${equal} at the best, mean ${percent(shareOff / searches)} off, worst ${percent(worstShare)}; ${faults} faults`,
  );
  console.log(
    `${served.alike} of ${searches} searches serve exactly the value that the best plan serves; of ${served.leftOut} blocks that best plans leave out ${served.never} are in no plan, the others cost ${(served.forcedCents / Math.max(1, served.leftOut - served.never) / 100).toFixed(2)} more than they bring to have in, on average`,
  );
  if (missing.size > 0) console.log(`lacking: ${tally(missing)}`);
  console.log(
    `of ${crewDays} crew-days of the best plans not to be made by putting in one stop after the other, ${tally(outOfReach)}`,
  );
  return faults === 0 && equal >= wantedShare * searches;
}

/** What of the rules a plan has to do with. */
function whatIsIn({ crewDays, score }: Plan): string[] {
  const kinds = new Set<string>(crewDays.flatMap(({ activities }) => activities.map(({ kind }) => kind)));
  for (const usual of ["drive", "setup", "work", "packup"]) kinds.delete(usual);
  const costs = (["unservedCents", "lateCents", "overtimeCents", "outfitChangeCents"] as const).filter(
    (part) => score[part] > 0,
  );
  const pauses = crewDays.some(({ activities }) =>
    activities.some((one) => one.kind === "work" && one.pauses !== undefined),
  );
  return [...kinds, ...(pauses ? ["pause"] : []), ...costs];
}

function tally(counts: ReadonlyMap<string, number>): string {
  return [...counts].map(([name, count]) => `${name} ${count}`).join(", ");
}

function percent(share: number): string {
  return `${(100 * share).toFixed(3)} %`;
}
