import type { Worker } from "node:worker_threads";
import type { CasesFile } from "../../shared/cases/cases.ts";
import { plannedCases } from "../../shared/cases/plannedCases.ts";
import type { RunKey, RunOutcome } from "../../shared/cases/runResult.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Season } from "../../shared/season/season.ts";
import { startThread } from "../threads/startThread.ts";
import type { FromThread, ThreadInput } from "./caseThread.ts";
import { keyOf, type Unit } from "./unit.ts";

const threadScript = new URL("./caseThread.ts", import.meta.url);

export interface CasesAsk {
  readonly operation: Operation;
  readonly file: CasesFile;
  /** With a number of weeks that are sampled from it; null: the operation's own week. */
  readonly sampled: { readonly season: Season; readonly weeks: number } | null;
  readonly threads: number;
  /** Runs that there is an outcome of already. */
  readonly except?: readonly RunKey[];
}

export interface CasesRun {
  /** All outcomes, in the order in which they came; those so far where it was stopped. */
  readonly outcomes: Promise<readonly RunOutcome[]>;
  stop(): void;
}

/** How many runs a file makes. */
export function countRuns(ask: CasesAsk): number {
  return unitsOf(ask).reduce((sum, { seeds }) => sum + seeds.length, 0);
}

/**
 * Plans every case with every seed in a pool of threads, one planning in each; the cases of a week after each other, the base first. What a run comes to does not hang on the thread that it
 * runs in. A thread that dies takes the case that it was at with it, which is told as failed, and another takes its place.
 */
export function runCases(ask: CasesAsk, onOutcome: (outcome: RunOutcome) => void): CasesRun {
  const { operation, file, sampled, threads } = ask;
  const waiting = unitsOf(ask);
  const outcomes: RunOutcome[] = [];
  const live = new Set<Worker>();
  let end: () => void = () => {};
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });

  /** A thread stays with its week, whose plan to start from it has; else it begins one that no other is at, as long as there is one. */
  const begun = new Set<number | undefined>();
  const takeNext = (week: number | undefined): Unit | undefined => {
    const own = waiting.findIndex((unit) => unit.week === week && begun.has(week));
    const fresh = own >= 0 ? own : waiting.findIndex((unit) => !begun.has(unit.week));
    const [unit] = waiting.splice(Math.max(0, fresh), 1);
    if (unit !== undefined) begun.add(unit.week);
    return unit;
  };
  const keep = (outcome: RunOutcome) => {
    outcomes.push(outcome);
    onOutcome(outcome);
  };
  const start = () => {
    const input: ThreadInput = { operation, season: sampled?.season ?? null, budget: file.budget };
    const worker = startThread(threadScript, input);
    live.add(worker);
    let unit: Unit | undefined;
    let told = new Set<number>();
    const lose = (why: string) => {
      if (!live.delete(worker)) return;
      void worker.terminate();
      for (const seed of unit?.seeds ?? []) {
        if (!told.has(seed))
          keep({ status: "failed", key: keyOf(unit!, seed), message: `its thread was lost: ${why}` });
      }
      // A thread that never came to a unit would not fare better another time.
      if (unit !== undefined && waiting.length > 0) start();
      else if (live.size === 0) failTheRest(why);
    };
    worker.on("message", (message: FromThread) => {
      if (!live.has(worker)) return;
      if (message.kind === "outcome") {
        told.add(message.outcome.key.seed);
        return keep(message.outcome);
      }
      unit = takeNext(unit?.week);
      told = new Set();
      if (unit !== undefined) return worker.postMessage(unit);
      live.delete(worker);
      void worker.terminate();
      if (live.size === 0) end();
    });
    worker.on("error", (error) => lose(error.message));
    worker.on("exit", (code) => lose(`it ended with ${code}`));
  };
  const failTheRest = (why: string) => {
    for (const unit of waiting.splice(0)) {
      for (const seed of unit.seeds)
        keep({ status: "failed", key: keyOf(unit, seed), message: `no thread was left: ${why}` });
    }
    end();
  };

  if (waiting.length === 0) end();
  const wanted = Math.min(threads, waiting.length);
  for (let thread = 0; thread < wanted; thread++) start();
  return {
    outcomes: ended.then(() => outcomes),
    stop() {
      const threadsLeft = [...live];
      live.clear();
      void Promise.all(threadsLeft.map((worker) => worker.terminate())).then(end);
    },
  };
}

function unitsOf({ operation, file, sampled, except = [] }: CasesAsk): Unit[] {
  const weeks = sampled === null ? [undefined] : Array.from({ length: sampled.weeks }, (_, week) => week);
  const isDone = (unit: Unit, seed: number) => {
    const { caseId, week } = keyOf(unit, seed);
    return except.some((key) => key.caseId === caseId && key.week === week && key.seed === seed);
  };
  const seeds = Array.from({ length: file.seeds }, (_, at) => at + 1);
  return weeks.flatMap((week) =>
    plannedCases(operation, file).flatMap((planned) => {
      const unit: Unit = { planned, seeds, ...(week === undefined ? {} : { week }) };
      const left = seeds.filter((seed) => !isDone(unit, seed));
      return left.length === 0 ? [] : [{ ...unit, seeds: left }];
    }),
  );
}
