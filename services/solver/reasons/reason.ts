import type { Because, Conflict, ConflictKind, Obstacle, ObstacleName } from "../../../shared/plan/plan.ts";
import { mostBlockingSets } from "../../../shared/plan/plan.ts";

/** Why a block is not planned. */
export type Reason = Pick<Conflict, "kind" | "sentence" | "because" | "evidence">;

/** What is told of sets of obstacles, the smallest first. */
export function becauseOf(sets: readonly (readonly Obstacle[])[], hasMore: boolean): Because {
  return {
    sets: sets.slice(0, mostBlockingSets).map((set) => [...set]),
    hasMore: hasMore || sets.length > mostBlockingSets,
  };
}

/** Which conflict each obstacle makes, in the order in which one is the main thing in a set of several. */
const kindOfObstacle: readonly (readonly [ConflictKind, readonly ObstacleName[]])[] = [
  ["labelForbids", ["label"]],
  ["seasonMaximum", ["seasonMax"]],
  ["bufferLeavesNothing", ["ground", "buffers"]],
  ["noCapableAircraft", ["method", "releaseHeight", "droplet", "slope", "rate", "range", "aircraft"]],
  ["noQualifiedCrew", ["licence", "rating"]],
  ["contradiction", ["locked"]],
  ["harvestTooSoon", ["phi"]],
  ["entryTooSoon", ["rei", "entry"]],
  ["fieldClosed", ["closed"]],
  ["retreatment", ["retreatment", "apart"]],
  ["equipmentShort", ["tender", "water", "sets", "chargers", "outOfService"]],
  [
    "noWindow",
    [
      ...(["daylight", "noForecast", "rain", "rainfast", "wet", "wind", "windLow", "gust", "deltaT"] as const),
      ...(["temperature", "humidity", "inversion", "bloom", "drift", "driftNear"] as const),
    ],
  ],
  ["windowTooShort", ["shift"]],
  ["notEnoughHours", ["duty"]],
  ["contradiction", ["dates"]],
];
const timeKinds: readonly ConflictKind[] = ["harvestTooSoon", "entryTooSoon", "fieldClosed", "retreatment", "noWindow"];

/** The kind of a set's main thing. Where some minute is open, what stops the others only makes windows too short; a harvest that leaves nothing of an order's dates contradicts them. */
export function kindOf(set: readonly { readonly limit: ObstacleName }[], hasWindow: boolean): ConflictKind {
  const kind = kindOfObstacle.find(([, limits]) => set.some(({ limit }) => limits.includes(limit)))![0];
  if (timeKinds.includes(kind) && hasWindow) return "windowTooShort";
  const isHarvestAgainstDates = set.every(({ limit }) => limit === "phi" || limit === "dates");
  return kind === "harvestTooSoon" && isHarvestAgainstDates ? "contradiction" : kind;
}
