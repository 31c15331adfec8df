import { bestSignaturesOf } from "../compileWork.ts";
import type { Problem } from "../problem.ts";
import { windowOverlap } from "../windowOverlap.ts";

/** One outfit that a qualified crew's base could send, held against the block. */
interface Attempt {
  readonly minutes: number;
  /** The most minutes that windows within one of the crew's shifts give a work. */
  readonly longestMin: number;
}

/** Windows that are shorter than the work, in words and figures; null where no crew may do it with what its base has. */
export function shortWindows(problem: Problem, block: number) {
  const { order, ground } = problem.blocks[block]!;
  const attempts = attemptsOf(problem, block);
  if (attempts.length === 0) return null;
  const workMin = Math.min(...attempts.map(({ minutes }) => minutes));
  const longestWindowMin = Math.max(...attempts.map(({ longestMin }) => longestMin));
  const hasPauses = problem.operation.settings.planning.pauseMaxMin > 0;
  const nightOnly = longestWindowMin === 0 && problem.types.some((_, type) => hasNightWindow(problem, ground, type));
  const given = hasPauses
    ? `windows with pauses between them give it at most ${longestWindowMin} min in such a crew's shift`
    : `the longest window in such a crew's shift is ${longestWindowMin} min`;
  const night = nightOnly ? ", at night there is one, for a crew that works by night" : "";
  return {
    head:
      longestWindowMin === 0
        ? `no window lies in the shift of a crew that may do it${night}`
        : longestWindowMin >= workMin
          ? `the work takes ${workMin} min with the quickest outfit that may do it, and no window leaves time for it and the way`
          : `the work takes ${workMin} min with the quickest outfit that may do it; ${given}`,
    evidence: { workMin, longestWindowMin, maySplit: problem.orders[order]!.order.maySplit, nightOnly },
  };
}

function attemptsOf(problem: Problem, block: number): Attempt[] {
  const { order, ground, waterL } = problem.blocks[block]!;
  const { licence } = problem.orders[order]!;
  return problem.options.flatMap((options, crew) => {
    const qualified = options.flatMap((option, at) =>
      problem.qualified[crew]![at * problem.licences + licence] === 0 ? [] : [option],
    );
    // More aircraft never take longer.
    const largest = qualified.filter(({ type }, at) => qualified[at + 1]?.type !== type);
    return largest.flatMap((option) => {
      const longestMin = Math.max(
        0,
        ...problem.slotsOfCrew[crew]!.map((slot) => windowOverlap(problem, ground, option.type, slot)),
      );
      const base = problem.baseOfCrew[crew]!;
      return bestSignaturesOf(problem.operation, problem.equipment, problem.signatures, base, option).flatMap(
        (signature) => {
          const minutes = problem.work.minutes(block, signature);
          const isDry = problem.signatures.at(signature).tender.waterL < waterL;
          return minutes === 0 || isDry ? [] : [{ minutes, longestMin }];
        },
      );
    });
  });
}

function hasNightWindow(problem: Problem, ground: number, type: number): boolean {
  return (problem.windows[(ground * problem.types.length + type) * 2 + 1]?.length ?? 0) > 0;
}
