import { type Agronomy, createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Obstacle } from "../../../shared/plan/plan.ts";
import { readable } from "../../../shared/plan/words.ts";
import type { Problem } from "../problem.ts";
import { smallestBlockingSets } from "./blockingSets.ts";
import { forbiddenBy } from "./explainAlone.ts";
import { becauseOf, kindOf, type Reason } from "./reason.ts";

/** Our choice: as many buffers as people read. */
const mostAsked = 300;

/** Why an order has no ground to treat; whatever else stands against it is not known without any. */
export function explainGround(problem: Problem, agronomy: Agronomy, orderIndex: number): Reason {
  const { operation, calendar } = problem;
  const { order } = problem.orders[orderIndex]!;
  const { fieldHa, areaHa, cuts } = agronomy.treatedArea(order);
  const leavesSome = (isGone: readonly boolean[]) => {
    const gone = new Set(cuts.filter((_, cut) => isGone[cut]).map(({ sensitiveId }) => sensitiveId));
    const features = operation.sensitive.features.filter(({ properties }) => !gone.has(properties.id));
    const eased = { ...operation, weather: [], sensitive: { ...operation.sensitive, features } };
    return createAgronomy(eased, calendar).treatedArea(order).areaHa > 0;
  };
  const found = smallestBlockingSets(cuts.length, leavesSome, mostAsked);
  const buffers = (found?.sets ?? []).map((set) => set.map((cut) => bufferOf(problem, cuts[cut]!)));
  const tooSmall: Obstacle = {
    limit: "ground",
    sentence: `the field's ${readable(fieldHa)} ha are too little to plan work for`,
    data: { fieldHa },
  };
  const forbidden = forbiddenBy(agronomy.orderLimits(order)).map((one) => [one]);
  const sets = [...forbidden, ...(found === null ? [[tooSmall]] : buffers)];
  const because = becauseOf(sets, true);
  const kind = kindOf(because.sets[0]!, false);
  const words = because.sets[0]!.map(({ sentence }) => sentence).join(", ");
  return {
    kind,
    sentence:
      because.sets[0]![0]!.limit === "buffers"
        ? `buffers leave ${readable(areaHa)} of ${readable(fieldHa)} ha: ${words}`
        : forbidden.length > 0
          ? forbidden.map(([one]) => one!.sentence).join("; ")
          : words,
    because,
    evidence:
      forbidden.length > 0
        ? { judgements: forbidden.map(([one]) => ({ limit: one!.limit, sentence: one!.sentence, ...one!.data })) }
        : { fieldHa, areaHa, cuts },
  };
}

function bufferOf(
  { operation }: Problem,
  { sensitiveId, distanceM, productId, cutHa }: ReturnType<Agronomy["treatedArea"]>["cuts"][number],
): Obstacle {
  const place = operation.sensitive.features.find(({ properties }) => properties.id === sensitiveId);
  return {
    limit: "buffers",
    sensitiveId,
    sentence: `${place?.properties.name ?? sensitiveId} ${distanceM} m`,
    data: { distanceM, productId, cutHa },
  };
}
