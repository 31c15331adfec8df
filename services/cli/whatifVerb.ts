import { availableParallelism } from "node:os";
import type { CasesFile } from "../../shared/cases/cases.ts";
import { compareRuns } from "../../shared/cases/compareRuns.ts";
import { comparisonText } from "../../shared/cases/comparisonText.ts";
import type { RunOutcome } from "../../shared/cases/runResult.ts";
import { type CasesAsk, countRuns, runCases } from "../whatif/runCases.ts";
import { exitCodes, loadScenario, print, printJson, remark } from "./output.ts";
import { readCasesFile, readCasesSeason } from "./whatif/readCasesFile.ts";

export interface WhatifOptions {
  readonly weeks?: number;
  readonly iterations?: number;
  readonly seeds?: number;
  readonly threads?: number;
  readonly json?: boolean;
}

/** Our choice: more plannings at once hardly fit the memory that they share. */
const mostThreads = 4;

export async function whatifVerb(dir: string, path: string, options: WhatifOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const read = await readCasesFile(path, operation);
  const { iterations, weeks } = options;
  const sampled = weeks === undefined ? null : { weeks, season: await readCasesSeason(path, read, operation) };
  // What a search leaves to chance goes under in many weeks: there one seed is enough.
  const seeds = options.seeds ?? (sampled === null ? undefined : 1);
  const file: CasesFile = {
    ...read,
    ...(iterations === undefined ? {} : { budget: { iterations } }),
    ...(seeds === undefined ? {} : { seeds }),
  };
  const threads = options.threads ?? Math.min(mostThreads, availableParallelism());
  const outcomes = await run({ operation, file, sampled, threads });
  const comparison = compareRuns(operation, file, outcomes);
  if (options.json) printJson(comparison);
  else print(comparisonText(comparison));
  return comparison.failed.length === 0 ? exitCodes.good : exitCodes.answerIsNo;
}

async function run(ask: CasesAsk): Promise<readonly RunOutcome[]> {
  const all = countRuns(ask);
  const startedMs = performance.now();
  let ended = 0;
  const running = runCases(ask, (outcome) => {
    const { caseId, seed, week } = outcome.key;
    ended++;
    const which = `${caseId}, seed ${seed}${week === undefined ? "" : `, week ${week + 1}`}`;
    const came =
      outcome.status === "failed" ? `failed: ${outcome.message}` : `${outcome.result.servedHa.toFixed(1)} ha`;
    remark(`${((performance.now() - startedMs) / 1000).toFixed(1)} s, ${ended} of ${all}: ${which}: ${came}`);
  });
  // Whoever is in a hurry gets what there is so far.
  process.once("SIGINT", running.stop);
  const outcomes = await running.outcomes;
  process.off("SIGINT", running.stop);
  if (outcomes.length < all) remark(`stopped after ${outcomes.length} of ${all} runs`);
  return outcomes;
}
