import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import { readable } from "../../shared/plan/words.ts";
import { bestSignatures } from "./compileWork.ts";
import type { Reason } from "./explainWindows.ts";
import type { Problem } from "./problem.ts";

/** What no weather and no plan can change: label, ground, aircraft, people. Null when none of them stands in the way. `block` is -1 for an order without ground. */
export function explainNever(problem: Problem, agronomy: Agronomy, order: number, block: number): Reason | null {
  return (
    lawful(problem, agronomy, order) ??
    (block < 0
      ? noGround(problem, agronomy, order)
      : (capable(problem, agronomy, block) ?? crewed(problem, agronomy, block)))
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

interface Obstacle {
  readonly limit: string;
  readonly sentence: string;
}

/** What keeps a type from the block whatever the weather: its gear, the slope, the droplets, the rate, the way to the pad. */
function obstaclesOf(problem: Problem, agronomy: Agronomy, block: number, type: number): Obstacle[] {
  const order = problem.orders[problem.blocks[block]!.order]!;
  const words = problem.types[type]!;
  const limits = agronomy.typeLimits(order.order, words);
  if (limits.length > 0) return limits.map(({ limit, sentence }) => ({ limit, sentence }));
  // The way to the pad is the same with every tender.
  const outcome = bestSignatures(problem, type)
    .map((signature) => problem.work.outcome(block, signature))
    .at(0);
  if (outcome === undefined || outcome.ok || outcome.limit !== "range") return [];
  return [
    {
      limit: "range",
      sentence: `from the pad to the far end and back takes ${words.name} ${readable(outcome.actual)} min, it can stay up ${readable(outcome.allowed)}`,
    },
  ];
}

function isOwned(problem: Problem, type: number): boolean {
  return problem.equipment.aircraftType.includes(type);
}

/** Types that the operation has and that nothing keeps from the block. */
export function capableTypes(problem: Problem, agronomy: Agronomy, block: number): number[] {
  return problem.types
    .map((_, type) => type)
    .filter((type) => isOwned(problem, type) && obstaclesOf(problem, agronomy, block, type).length === 0);
}

function capable(problem: Problem, agronomy: Agronomy, block: number): Reason | null {
  if (capableTypes(problem, agronomy, block).length > 0) return null;
  const types = problem.types.map((type, index) => ({
    aircraftTypeId: type.id,
    name: type.name,
    owned: isOwned(problem, index),
    obstacles: obstaclesOf(problem, agronomy, block, index),
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

function crewed(problem: Problem, agronomy: Agronomy, block: number): Reason | null {
  const { licence } = problem.orders[problem.blocks[block]!.order]!;
  const types = capableTypes(problem, agronomy, block);
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
