import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import { readable } from "../../shared/plan/words.ts";
import type { Reason } from "./explainWindows.ts";
import type { Problem } from "./problem.ts";

/** What no weather and no plan can change: label, ground, aircraft, people. Null when none of them stands in the way. An order without ground has no obstacles by type. */
export function explainNever(
  problem: Problem,
  agronomy: Agronomy,
  order: number,
  obstacles: ObstaclesByType | null,
): Reason | null {
  return (
    lawful(problem, agronomy, order) ??
    (obstacles === null
      ? noGround(problem, agronomy, order)
      : (capable(problem, obstacles) ?? crewed(problem, order, obstacles)))
  );
}

function lawful(problem: Problem, agronomy: Agronomy, order: number): Reason | null {
  // Ground that buffers take is told with the places that they are kept from.
  const judgements = agronomy.orderLimits(problem.orders[order]!.order).filter(({ limit }) => limit !== "buffers");
  if (judgements.length === 0) return null;
  return {
    kind: judgements.some(({ limit }) => limit === "label") ? "labelForbids" : "seasonMaximum",
    sentence: judgements.map(({ sentence }) => sentence).join("; "),
    evidence: { judgements },
  };
}

function noGround(problem: Problem, agronomy: Agronomy, order: number): Reason {
  const { fieldHa, areaHa, cuts } = agronomy.treatedArea(problem.orders[order]!.order);
  const words = cuts.map(({ sensitiveId, distanceM }) => `${placeName(problem, sensitiveId)} ${distanceM} m`);
  return {
    kind: "bufferLeavesNothing",
    sentence: `buffers leave ${readable(areaHa)} of ${readable(fieldHa)} ha: ${words.join(", ")}`,
    evidence: { fieldHa, areaHa, cuts },
  };
}

function placeName(problem: Problem, sensitiveId: string): string {
  const place = problem.operation.sensitive.features.find(({ properties }) => properties.id === sensitiveId);
  return place?.properties.name ?? sensitiveId;
}

export interface Obstacle {
  readonly limit: string;
  readonly sentence: string;
}

/** What keeps each type from a block whatever the weather. */
export type ObstaclesByType = readonly (readonly Obstacle[])[];

/** By gear, slope, droplets, rate, and the way to the pad, which is the same with every outfit of a type: `signatureOf` names one. */
export function obstaclesOf(
  problem: Problem,
  agronomy: Agronomy,
  block: number,
  signatureOf: (type: number) => number | undefined,
): ObstaclesByType {
  const { order } = problem.orders[problem.blocks[block]!.order]!;
  return problem.types.map((type, index): Obstacle[] => {
    const limits = agronomy.typeLimits(order, type);
    if (limits.length > 0) return limits.map(({ limit, sentence }) => ({ limit, sentence }));
    const signature = signatureOf(index);
    if (signature === undefined || problem.work.minutes(block, signature) > 0) return [];
    const outcome = problem.work.outcome(block, signature);
    if (outcome.ok || outcome.limit !== "range") return [];
    return [
      {
        limit: "range",
        sentence: `from the pad to the far end and back takes ${type.name} ${readable(outcome.actual)} min, it can stay up ${readable(outcome.allowed)}`,
      },
    ];
  });
}

function isOwned(problem: Problem, type: number): boolean {
  return problem.equipment.aircraftType.includes(type);
}

/** Types that the operation has and that nothing keeps from the block. */
export function capableTypes(problem: Problem, obstacles: ObstaclesByType): number[] {
  return problem.types.map((_, type) => type).filter((type) => isOwned(problem, type) && obstacles[type]!.length === 0);
}

function capable(problem: Problem, obstacles: ObstaclesByType): Reason | null {
  if (capableTypes(problem, obstacles).length > 0) return null;
  const types = problem.types.map((type, index) => ({
    aircraftTypeId: type.id,
    name: type.name,
    owned: isOwned(problem, index),
    obstacles: obstacles[index]!,
  }));
  const able = types.filter(({ obstacles }) => obstacles.length === 0);
  const closest = types.reduce((best, next) => (next.obstacles.length < best.obstacles.length ? next : best));
  return {
    kind: "noCapableAircraft",
    sentence:
      able.length > 0
        ? `${able.map(({ name }) => name).join(" or ")} could do it, but the operation has none`
        : `no aircraft can do it; ${closest.name} comes closest: ${closest.obstacles.map(({ sentence }) => sentence).join("; ")}`,
    evidence: { closest: closest.aircraftTypeId, types },
  };
}

function crewed(problem: Problem, order: number, obstacles: ObstaclesByType): Reason | null {
  const { licence } = problem.orders[order]!;
  const types = capableTypes(problem, obstacles);
  const some = problem.options.some((options, crew) =>
    options.some(
      (option, at) => types.includes(option.type) && problem.qualified[crew]![at * problem.licences + licence] === 1,
    ),
  );
  if (some) return null;
  const classes = problem.licenceSets[licence]!;
  const names = types.map((type) => problem.types[type]!.name);
  const ids = types.map((type) => problem.types[type]!.id);
  return {
    kind: "noQualifiedCrew",
    sentence: `nobody who flies ${names.join(" or ")} from a base that has one holds licence ${classes.join(" and ")}`,
    evidence: {
      licenceClasses: classes,
      aircraftTypeIds: ids,
      people: problem.crews.flatMap((crew) =>
        crew.people
          .filter((person) => person.ratings.some((rating) => ids.includes(rating)))
          .map((person) => ({ crewId: crew.id, person: person.name, licenceClasses: person.licenceClasses })),
      ),
    },
  };
}
