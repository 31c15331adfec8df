import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import type { Conflict } from "../../shared/plan/plan.ts";
import { counted, readable } from "../../shared/plan/words.ts";
import { bestSignatures } from "./compileWork.ts";
import { explainWindows, type Reason } from "./explainWindows.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./state.ts";
import { windowOverlap } from "./windowOverlap.ts";

/**
 * Every order that is not wholly planned, with the first reason that holds, asked from what can never change to what only the week decides: label, ground,
 * aircraft, people, hours, equipment, and last the competition of other work. Blocks of one order with one kind of reason share a conflict.
 */
export function explainConflicts(problem: Problem, agronomy: Agronomy, state: State): Conflict[] {
  return problem.orders.flatMap((_, order) => explainOrder(problem, agronomy, state, order));
}

function explainOrder(problem: Problem, agronomy: Agronomy, state: State, orderIndex: number): Conflict[] {
  const { order } = problem.orders[orderIndex]!;
  const blocks = problem.blocksOfOrder[orderIndex]!;
  if (blocks.length === 0) {
    const { fieldHa, areaHa, cuts } = agronomy.treatedArea(order);
    const reason: Reason = lawful(agronomy, problem, orderIndex) ?? {
      kind: "bufferLeavesNothing",
      sentence: `buffers leave ${readable(areaHa)} of ${readable(fieldHa)} ha: ${cuts
        .map((cut) => `${placeName(problem, cut.sensitiveId)} ${cut.distanceM} m`)
        .join(", ")}`,
      evidence: { fieldHa, areaHa, cuts },
    };
    return [{ orderId: order.id, blockIds: [], areaHa: 0, ...reason }];
  }
  const conflicts = new Map<string, { reason: Reason; blocks: number[] }>();
  for (const block of blocks) {
    if (state.slotOf[block]! >= 0) continue;
    const reason = explainBlock(problem, agronomy, state, block);
    const same = conflicts.get(reason.kind);
    if (same === undefined) conflicts.set(reason.kind, { reason, blocks: [block] });
    else same.blocks.push(block);
  }
  return [...conflicts.values()].map(({ reason, blocks: unplanned }) => ({
    orderId: order.id,
    blockIds: unplanned.map((block) => problem.blocks[block]!.block.id),
    areaHa: unplanned.reduce((sum, block) => sum + problem.blocks[block]!.areaHa, 0),
    ...reason,
  }));
}

function explainBlock(problem: Problem, agronomy: Agronomy, state: State, block: number): Reason {
  const orderIndex = problem.blocks[block]!.order;
  return (
    lawful(agronomy, problem, orderIndex) ??
    capable(problem, agronomy, block) ??
    crewed(problem, agronomy, block) ??
    explainWindows(problem, agronomy, problem.blocks[block]!.ground, capableTypes(problem, agronomy, block)) ??
    equipped(problem, block) ??
    longEnough(problem, block) ??
    apartFromOthers(problem, state, block) ??
    outOfHours(problem, state, block)
  );
}

function placeName(problem: Problem, sensitiveId: string): string {
  const place = problem.operation.sensitive.features.find(({ properties }) => properties.id === sensitiveId);
  return place?.properties.name ?? sensitiveId;
}

function lawful(agronomy: Agronomy, problem: Problem, orderIndex: number): Reason | null {
  const judgements = agronomy.orderLimits(problem.orders[orderIndex]!.order);
  const first = judgements[0];
  if (first === undefined) return null;
  return {
    kind: judgements.some(({ limit }) => limit === "label") ? "labelForbids" : "seasonMaximum",
    sentence: judgements.map(({ sentence }) => sentence).join("; "),
    evidence: { judgements },
  };
}

/** What keeps a type from the block whatever the weather: its gear, the slope, the droplets, the rate. */
function typeObstacles(
  problem: Problem,
  agronomy: Agronomy,
  block: number,
  type: number,
): { limit: string; sentence: string }[] {
  const { order } = problem.orders[problem.blocks[block]!.order]!;
  const limits = agronomy.typeLimits(order, problem.types[type]!);
  if (limits.length > 0) return limits.map(({ limit, sentence }) => ({ limit, sentence }));
  return bestSignatures(problem, type).flatMap((signature) => {
    const outcome = problem.work.outcome(block, signature);
    if (outcome.ok || (outcome.limit !== "rate" && outcome.limit !== "range")) return [];
    return [
      {
        limit: outcome.limit,
        sentence: `${outcome.limit} ${readable(outcome.actual)} ${outcome.unit}, allowed ${readable(outcome.allowed)}`,
      },
    ];
  });
}

function capableTypes(problem: Problem, agronomy: Agronomy, block: number): number[] {
  return problem.types
    .map((_, type) => type)
    .filter((type) => typeObstacles(problem, agronomy, block, type).length === 0);
}

function capable(problem: Problem, agronomy: Agronomy, block: number): Reason | null {
  if (capableTypes(problem, agronomy, block).length > 0) return null;
  const types = problem.types.map((type, index) => ({
    aircraftTypeId: type.id,
    name: type.name,
    obstacles: typeObstacles(problem, agronomy, block, index),
  }));
  const closest = types.reduce((best, next) => (next.obstacles.length < best.obstacles.length ? next : best));
  return {
    kind: "noCapableAircraft",
    sentence: `no aircraft can do it; ${closest.name} comes closest: ${closest.obstacles
      .map(({ sentence }) => sentence)
      .join("; ")}`,
    evidence: { closest: closest.aircraftTypeId, types },
  };
}

function crewed(problem: Problem, agronomy: Agronomy, block: number): Reason | null {
  const order = problem.orders[problem.blocks[block]!.order]!;
  const types = capableTypes(problem, agronomy, block);
  const some = problem.crews.some((_, crew) =>
    problem.options[crew]!.some(
      (option, at) =>
        types.includes(option.type) && problem.qualified[crew]![at * problem.licences + order.licence] === 1,
    ),
  );
  if (some) return null;
  const classes = problem.licenceSets[order.licence]!;
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

function equipped(problem: Problem, block: number): Reason | null {
  const { waterL, order } = problem.blocks[block]!;
  const mostL = Math.max(0, ...problem.equipment.tenderWaterL);
  if (waterL > mostL) {
    return {
      kind: "equipmentShort",
      sentence: `the mix takes ${readable(waterL)} L in one go, the largest tender carries ${readable(mostL)}`,
      evidence: { waterL, largestTenderL: mostL, maySplit: problem.orders[order]!.order.maySplit },
    };
  }
  const outcomes = problem.types.flatMap((_, type) =>
    bestSignatures(problem, type).map((signature) => problem.work.outcome(block, signature)),
  );
  if (outcomes.some(({ ok }) => ok)) return null;
  const short = outcomes
    .flatMap((outcome) =>
      !outcome.ok && (outcome.limit === "chargers" || outcome.limit === "batteries") ? [outcome] : [],
    )
    .at(0);
  return {
    kind: "equipmentShort",
    sentence:
      short === undefined
        ? "no base holds aircraft, tender, batteries and chargers that go together for it"
        : `${short.limit}: ${readable(short.actual)} ${short.unit}, needed ${readable(short.allowed)}`,
    evidence: { outcomes },
  };
}

function longEnough(problem: Problem, block: number): Reason | null {
  if (problem.slotsOfBlock[block]!.length > 0) return null;
  const { order, ground } = problem.blocks[block]!;
  const { licence } = problem.orders[order]!;
  let shortestMin = Number.POSITIVE_INFINITY;
  let longestMin = 0;
  for (let type = 0; type < problem.types.length; type++) {
    for (const signature of bestSignatures(problem, type)) {
      const minutes = problem.work.minutes(block, signature);
      if (minutes > 0) shortestMin = Math.min(shortestMin, minutes);
    }
    problem.slots.forEach(({ crew }, slot) => {
      const flies = problem.options[crew]!.some(
        (option, at) => option.type === type && problem.qualified[crew]![at * problem.licences + licence] === 1,
      );
      if (flies) longestMin = Math.max(longestMin, windowOverlap(problem, ground, type, slot));
    });
  }
  return {
    kind: "windowTooShort",
    sentence: `the work takes ${shortestMin} min with the quickest outfit; the longest window in a qualified crew's shift is ${longestMin} min`,
    evidence: {
      workMin: shortestMin,
      longestWindowMin: longestMin,
      maySplit: problem.orders[order]!.order.maySplit,
    },
  };
}

/** The other orders of this plan that use up the season or stand too near in days. */
function apartFromOthers(problem: Problem, state: State, block: number): Reason | null {
  const order = problem.orders[problem.blocks[block]!.order]!;
  if (state.plannedOfOrder[problem.blocks[block]!.order]! > 0) return null;
  for (const season of order.seasons) {
    const limit = problem.seasonLimits[season]!;
    const planned = limit.orders.filter((other) => state.plannedOfOrder[other]! > 0);
    if (planned.length < limit.maxCount) continue;
    const names = planned.map((other) => problem.orders[other]!.order.id);
    return {
      kind: "seasonMaximum",
      sentence: `the season allows ${counted(limit.maxCount, "more application", "more applications")}, taken by ${names.join(", ")}`,
      evidence: { maxCount: limit.maxCount, plannedOrders: names },
    };
  }
  const near = order.apart
    .filter(({ order: other, days, minutes }) => days + minutes > 0 && state.plannedOfOrder[other]! > 0)
    .map(({ order: other, days, minutes }) => ({
      orderId: problem.orders[other]!.order.id,
      days,
      hours: minutes / 60,
    }));
  if (near.length === 0) return null;
  const words = near.map(({ orderId, days, hours }) =>
    hours > days * 24 ? `${readable(hours)} h from ${orderId}` : `${counted(days, "day", "days")} from ${orderId}`,
  );
  return {
    kind: "retreatment",
    sentence: `must stay ${words.join(" and ")} on the same field`,
    evidence: { orders: near },
  };
}

function outOfHours(problem: Problem, state: State, block: number): Reason {
  const slots = problem.slotsOfBlock[block]!.map((slot) => ({
    crewId: problem.crews[problem.slots[slot]!.crew]!.id,
    date: problem.calendar.dates[problem.slots[slot]!.day]!,
    stops: state.count[slot]!,
    dutyMin: state.count[slot]! > 0 ? state.backMin[slot]! - state.leaveMin[slot]! : 0,
  }));
  const busy = slots.filter(({ stops }) => stops > 0).length;
  return {
    kind: "notEnoughHours",
    sentence: `${counted(slots.length, "crew-day", "crew-days")} could do it; ${busy} of them ${
      busy === 1 ? "is" : "are"
    } taken by work that is worth more, the others have no outfit or no calm hour left that pays`,
    evidence: { crewDays: slots },
  };
}
