import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { fewestRoutes } from "./routing/fewestRoutes.ts";
import type { RunOutcome, RunRequest } from "./routing/runInstance.ts";
import { type SelectedInstance, selectInstances } from "./routing/selectInstances.ts";
import type { Objective } from "./routing/settings.ts";
import { judgeMean } from "./routing/targets.ts";

interface RoutingBench {
  /** Of the processor, for each instance. */
  readonly seconds: number;
  readonly seed: number;
  readonly objective: Objective;
  readonly jobs: number;
}

/** With `routes`, these come first. */
interface Best {
  readonly cost: number;
  readonly routes: number | undefined;
}

const runFile = fileURLToPath(new URL("./routing/runFile.ts", import.meta.url));

/**
 * Solve research instances, each in a process of its own, and hold the tours beside the best known. Costs are in the instance's unit. False when tours break
 * something.
 */
export async function benchRouting(words: readonly string[], bench: RoutingBench): Promise<boolean> {
  const instances = selectInstances(words);
  if (instances.length === 0) console.log("not run: there are no instances, see CALMHOUR_BENCHMARKS");
  else
    console.log(
      "name                          best known              got   gap %    routes  iterations/s  full after ms",
    );
  const outcomes: (RunOutcome | string)[] = [];
  const gaps = new Map<string, number[]>();
  let shown = 0;
  const showDone = () => {
    for (; outcomes[shown] !== undefined; shown++) {
      const instance = instances[shown]!;
      const outcome = outcomes[shown]!;
      if (typeof outcome === "string") {
        console.log(`${nameOf(instance)} not run: ${outcome}`);
        continue;
      }
      const best = bestOf(instance, bench.objective);
      const gapPct = gapOf(outcome, best);
      if (gapPct !== undefined) gaps.set(instance.group, [...(gaps.get(instance.group) ?? []), gapPct]);
      console.log(rowOf(nameOf(instance), outcome, best, gapPct));
      for (const fault of outcome.faults) console.log(`  FAULT: ${fault}`);
    }
  };
  let next = 0;
  const work = async () => {
    while (next < instances.length) {
      const at = next++;
      const instance = instances[at]!;
      outcomes[at] = whyNot(instance, bench.objective) ?? (await runApart({ ...bench, path: instance.path }));
      showDone();
    }
  };
  await Promise.all(Array.from({ length: bench.jobs }, work));
  for (const [group, list] of gaps) {
    const meanPct = list.reduce((sum, gapPct) => sum + gapPct, 0) / list.length;
    const judged =
      bench.objective === "distance"
        ? judgeMean(group, meanPct, bench.seconds)
        : "only those with as many routes as the best known";
    console.log(`${group}: mean gap ${meanPct.toFixed(3)} % over ${list.length}, ${bench.seconds} s; ${judged}`);
  }
  return outcomes.every((outcome) => typeof outcome === "string" || outcome.faults.length === 0);
}

/** Families share names. */
function nameOf({ group, name }: SelectedInstance): string {
  return `${group}/${name}`.padEnd(23);
}

function whyNot({ path }: SelectedInstance, objective: Objective): string | undefined {
  if (objective === "vehicles" && !path.endsWith(".txt"))
    return "fewest routes are asked of solomon and homberger only";
  return undefined;
}

function runApart(request: RunRequest): Promise<RunOutcome> {
  return new Promise((resolve, reject) => {
    const child = fork(runFile, [JSON.stringify(request)]);
    let outcome: RunOutcome | undefined;
    child.on("message", (message) => {
      outcome = message as RunOutcome;
    });
    child.on("error", reject);
    child.on("exit", (code) => {
      if (outcome === undefined) reject(new Error(`${request.path}: its process ended with ${code} and no outcome`));
      else resolve(outcome);
    });
  });
}

function bestOf({ name, family, bestCost }: SelectedInstance, objective: Objective): Best | undefined {
  if (objective === "distance") return bestCost === undefined ? undefined : { cost: bestCost, routes: undefined };
  const fewest = family === "solomon" ? fewestRoutes.get(name) : undefined;
  return fewest && { cost: fewest.distance, routes: fewest.routes };
}

/** Undefined where there is nothing to compare with. */
function gapOf({ cost, routes }: RunOutcome, best: Best | undefined): number | undefined {
  if (best === undefined || (best.routes !== undefined && best.routes !== routes)) return undefined;
  return 100 * (cost / best.cost - 1);
}

function rowOf(name: string, outcome: RunOutcome, best: Best | undefined, gapPct: number | undefined): string {
  const { cost, routes, iterationsPerS, firstFullMs } = outcome;
  const costText = (value: number | undefined) =>
    value === undefined ? "-" : Number.isInteger(value) ? String(value) : value.toFixed(2);
  return [
    name,
    costText(best?.cost).padStart(16),
    costText(cost).padStart(16),
    (gapPct?.toFixed(3) ?? "-").padStart(7),
    `${routes}${best?.routes === undefined ? "" : ` (${best.routes})`}`.padStart(9),
    iterationsPerS.toFixed(0).padStart(13),
    (firstFullMs?.toFixed(0) ?? "never").padStart(14),
  ].join(" ");
}
