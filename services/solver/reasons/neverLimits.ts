import type { Agronomy } from "../../../shared/agronomy/agronomy.ts";
import { remember } from "../../../shared/model/remember.ts";
import { readable } from "../../../shared/plan/words.ts";
import { someSignatureOf } from "../compileWork.ts";
import type { Problem } from "../problem.ts";
import type { Atom } from "./alone.ts";

/** What keeps each type from a block whatever the weather: gear, height, slope, droplets, rate, and the way to the pad. */
export type NeverLimits = (block: number) => readonly (readonly Atom[])[];

export function createNeverLimits(problem: Problem, agronomy: Agronomy): NeverLimits {
  // The way to the pad is the same with every outfit of a type.
  const signatureOf = remember((type: number) => someSignatureOf(problem, type));
  const ofOrder = remember((index: number) =>
    problem.types.map((words, type) =>
      agronomy
        .typeLimits(problem.orders[index]!.order, words)
        .map(({ limit, ...judgement }): Atom => ({ limit, type, judgement })),
    ),
  );
  return (block) =>
    ofOrder(problem.blocks[block]!.order).map((limits, type) => {
      if (limits.length > 0) return limits;
      const signature = signatureOf(type);
      if (signature === undefined || problem.work.minutes(block, signature) > 0) return [];
      const outcome = problem.work.outcome(block, signature);
      if (outcome.ok || outcome.limit !== "range") return [];
      const { actual, allowed } = outcome;
      const { name } = problem.types[type]!;
      const sentence = `from the pad to the far end and back takes ${name} ${readable(actual)} min, it can stay up ${readable(allowed)}`;
      return [{ limit: "range", type, judgement: { actual, allowed, unit: "min", sentence } }];
    });
}
