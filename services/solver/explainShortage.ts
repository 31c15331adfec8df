import type { WorkOutcome } from "../../shared/fieldwork/workTime.ts";
import { readable } from "../../shared/plan/words.ts";
import { bestSignaturesOf } from "./compileWork.ts";
import type { Reason } from "./explainWindows.ts";
import { morningSets, nightOf } from "./nightCharging.ts";
import type { Problem } from "./problem.ts";
import { windowOverlap } from "./windowOverlap.ts";

/** One outfit that a qualified crew's base could send, held against the block. */
interface Attempt {
  readonly outcome: WorkOutcome;
  readonly tenderL: number;
  /** The longest stretch of a window within one of the crew's shifts, minutes. */
  readonly longestMin: number;
}

/** Equipment that is short at every base with a qualified crew, or windows that are shorter than the work. Null when some crew could finish the block in a window. */
export function explainShortage(problem: Problem, block: number): Reason | null {
  if (problem.slotsOfBlock[block]!.length > 0) return null;
  const attempts = attemptsOf(problem, block);
  const working = attempts.filter(({ outcome }) => outcome.ok);
  if (working.length === 0) return nightShort(problem, block) ?? noOutfit(attempts);

  const { waterL, order, ground } = problem.blocks[block]!;
  const { maySplit } = problem.orders[order]!.order;
  const mostL = Math.max(...working.map(({ tenderL }) => tenderL));
  if (waterL > mostL) {
    return {
      kind: "equipmentShort",
      sentence: `the mix takes ${readable(waterL)} L in one go, the largest tender where a crew may do it carries ${readable(mostL)}`,
      evidence: { waterL, largestTenderL: mostL, maySplit },
    };
  }
  const fitting = working.filter(({ tenderL }) => tenderL >= waterL);
  const shortestMin = Math.min(
    ...fitting.map(({ outcome }) => (outcome.ok ? outcome.minutes : Number.POSITIVE_INFINITY)),
  );
  const longestMin = Math.max(...fitting.map((attempt) => attempt.longestMin));
  const pauses = problem.operation.settings.planning.pauseMaxMin > 0;
  const nightOnly = longestMin <= 0 && problem.types.some((_, type) => hasNightWindow(problem, ground, type));
  return {
    kind: "windowTooShort",
    sentence:
      longestMin > 0
        ? `the work takes ${shortestMin} min with the quickest outfit that may do it; ${pauses ? "windows with pauses between them give it at most" : "the longest window in such a crew's shift is"} ${longestMin} min${pauses ? " in such a crew's shift" : ""}`
        : `no window lies in the shift of a crew that may do it${nightOnly ? "; at night there is one, for a crew that works by night" : ""}`,
    evidence: { workMin: shortestMin, longestWindowMin: Math.max(0, longestMin), maySplit, nightOnly },
  };
}

function attemptsOf(problem: Problem, block: number): Attempt[] {
  const { order, ground } = problem.blocks[block]!;
  const { licence } = problem.orders[order]!;
  return problem.options.flatMap((options, crew) =>
    options.flatMap((option, at) => {
      if (problem.qualified[crew]![at * problem.licences + licence] === 0) return [];
      const longestMin = Math.max(
        0,
        ...problem.slotsOfCrew[crew]!.map((slot) => windowOverlap(problem, ground, option.type, slot)),
      );
      const base = problem.baseOfCrew[crew]!;
      return bestSignaturesOf(problem.operation, problem.equipment, problem.signatures, base, option).map(
        (signature) => ({
          outcome: problem.work.outcome(block, signature),
          tenderL: problem.signatures.at(signature).tender.waterL,
          longestMin,
        }),
      );
    }),
  );
}

/** Battery sets that a base has and cannot charge overnight, where a qualified crew would need them. */
function nightShort(problem: Problem, block: number): Reason | null {
  const { operation, licences, qualified, baseOfCrew } = problem;
  const { licence } = problem.orders[problem.blocks[block]!.order]!;
  for (const [crew, options] of problem.options.entries()) {
    for (const [at, option] of options.entries()) {
      if (qualified[crew]![at * licences + licence] === 0) continue;
      const baseId = operation.settings.bases[baseOfCrew[crew]!]!.id;
      const typeId = problem.types[option.type]!.id;
      const stock = operation.fleet.batteryStocks.find((one) => one.baseId === baseId && one.aircraftTypeId === typeId);
      if (stock === undefined || stock.sets < option.count) continue;
      const full = morningSets(operation, baseId, stock.sets);
      if (full >= option.count) continue;
      const night = nightOf(operation, baseId);
      return {
        kind: "equipmentShort",
        sentence: `overnight base ${baseId} charges ${full} of its ${stock.sets} battery sets for ${typeId}: chargers ${readable(night.chargersKw)} kW, mains ${readable(night.mainsKw)} kW, ${readable(night.hours)} h`,
        evidence: { baseId, aircraftTypeId: typeId, sets: stock.sets, fullSets: full, ...night },
      };
    }
  }
  return null;
}

function noOutfit(attempts: readonly Attempt[]): Reason {
  const short = attempts
    .flatMap(({ outcome }) =>
      !outcome.ok && (outcome.limit === "chargers" || outcome.limit === "batteries") ? [outcome] : [],
    )
    .at(0);
  return {
    kind: "equipmentShort",
    sentence:
      short === undefined
        ? "no base with a qualified crew holds aircraft, a tender that carries them, batteries and chargers that go together for it"
        : `${short.limit}: ${readable(short.actual)} ${short.unit}, needed ${readable(short.allowed)}`,
    evidence: { outcomes: attempts.map(({ outcome }) => outcome) },
  };
}

function hasNightWindow(problem: Problem, ground: number, type: number): boolean {
  return (problem.windows[(ground * problem.types.length + type) * 2 + 1]?.length ?? 0) > 0;
}
