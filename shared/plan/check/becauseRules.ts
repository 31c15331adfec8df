import type { Conflict, Obstacle } from "../plan.ts";
import type { Facts } from "./facts.ts";
import type { Ledger } from "./report.ts";

/** What can be judged of a conflict's sets from the plan alone: whether what keeps a block out is told of things that exist, and of no more than it takes. */
export function checkBecause(facts: Facts, ledger: Ledger): void {
  for (const conflict of facts.plan.conflicts) if (conflict.because !== undefined) checkSets(facts, ledger, conflict);
}

function checkSets(facts: Facts, ledger: Ledger, { orderId, because }: Conflict): void {
  const subject = { orderId };
  const expect = (holds: boolean, sentence: string) =>
    ledger.expect("because", holds, subject, () => ({ sentence: `the conflict of order ${orderId} ${sentence}` }));
  const sets = because!.sets;
  expect(sets.length > 0, "has no set of reasons");
  const keys = sets.map((set) => new Set(set.map(keyOf)));
  sets.forEach((set, at) => {
    expect(set.length > 0, "has an empty set of reasons");
    expect(keys[at]!.size === set.length, "tells a reason twice in one set");
    expect(at === 0 || sets[at - 1]!.length <= set.length, "does not tell the smallest set first");
    const within = keys.some((other, otherAt) => otherAt !== at && [...other].every((key) => keys[at]!.has(key)));
    expect(!within, "has a set of reasons within another");
    for (const obstacle of set) {
      const unknown = unknownIn(facts, obstacle);
      expect(unknown.length === 0, `names ${unknown.join(", ")}, which is unknown`);
    }
  });
}

function keyOf({ limit, aircraftTypeId, sensitiveId, orderId, sentence }: Obstacle): string {
  // A label may forbid an order in several ways.
  const told = limit === "label" || limit === "seasonMax" ? sentence : "";
  return [limit, aircraftTypeId, sensitiveId, orderId, told].join("\n");
}

function unknownIn(facts: Facts, { aircraftTypeId, sensitiveId, orderId }: Obstacle): string[] {
  const places = facts.operation.sensitive.features;
  const isPlace = places.some(({ properties }) => properties.id === sensitiveId);
  return [
    ...(aircraftTypeId === undefined || facts.types.has(aircraftTypeId) ? [] : [`aircraft type ${aircraftTypeId}`]),
    ...(sensitiveId === undefined || isPlace ? [] : [`place ${sensitiveId}`]),
    ...(orderId === undefined || facts.mixes.has(orderId) ? [] : [`order ${orderId}`]),
  ];
}
