import type { AircraftTypeId, OrderId, SensitiveId } from "../../../shared/model/quantities.ts";
import type { Because, Obstacle } from "../../../shared/plan/plan.ts";
import { type Draft, type Mutation, mutation, pick } from "./mutation.ts";

function onBecause(name: string, change: (because: Because, draft: Draft) => boolean): Mutation {
  return mutation("because", name, (draft) => {
    const because = pick(
      draft,
      draft.plan.conflicts.flatMap((conflict) => (conflict.because === undefined ? [] : [conflict.because])),
    );
    return because !== undefined && change(because, draft);
  });
}

function onObstacle(name: string, change: (obstacle: Obstacle) => void): Mutation {
  return onBecause(name, ({ sets }, draft) => {
    const obstacle = pick(draft, sets.flat());
    if (obstacle === undefined) return false;
    change(obstacle);
    return true;
  });
}

const invented: Obstacle = { limit: "wind", sentence: "wind", data: {} };

export const becauseMutations: readonly Mutation[] = [
  onBecause("no set", (because) => {
    because.sets = [];
    return true;
  }),
  onBecause("an empty set", ({ sets }) => {
    sets.unshift([]);
    return true;
  }),
  onBecause("a set within another", ({ sets }) => {
    sets.push([...sets.at(-1)!, invented]);
    return true;
  }),
  onBecause("a set told twice", ({ sets }) => {
    sets.push(structuredClone(sets.at(-1)!));
    return true;
  }),
  onBecause("a reason told twice", ({ sets }) => {
    const last = sets.at(-1)!;
    last.push(structuredClone(last[0]!));
    return true;
  }),
  onBecause("the smallest set last", ({ sets }) => {
    const { length } = sets.at(-1)!;
    if (length < 2) return false;
    sets.push([invented]);
    return true;
  }),
  onObstacle("an unknown type", (obstacle) => {
    obstacle.aircraftTypeId = "NOBODY" as AircraftTypeId;
  }),
  onObstacle("an unknown place", (obstacle) => {
    obstacle.sensitiveId = "NOBODY" as SensitiveId;
  }),
  onObstacle("an unknown order", (obstacle) => {
    obstacle.orderId = "NOBODY" as OrderId;
  }),
];
