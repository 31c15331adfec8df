import { readable } from "../../../shared/plan/words.ts";
import type { Answer } from "./orderWork.ts";

/** Why an outfit cannot do an order, in words. */
export function refusalWords(answer: Extract<Answer, { readonly ok: false }>): string {
  if ("limits" in answer) return answer.limits.map(({ sentence }) => sentence).join("; ");
  if ("water" in answer) {
    const { mixL, tenderL } = answer.water;
    return `the order may not be split and its mix takes ${readable(mixL)} L in one go, ${answer.outfit.tender.id} carries ${readable(tenderL)}`;
  }
  const { outfit, refusal } = answer;
  switch (refusal.limit) {
    case "method":
      return `has no gear for ${refusal.actual} work`;
    case "rate":
      return `would have to put out ${refusal.actual.toFixed(1)} ${refusal.unit} at its slowest, it can put out ${refusal.allowed.toFixed(1)}`;
    case "chargers":
      return outfit.chargers.length === 0
        ? "no charger is named; battery sets need one at the pad"
        : "no bay works: chargers or generator lack the power for a set";
    case "batteries":
      return `${refusal.actual} battery sets for ${refusal.allowed} aircraft`;
    case "range": {
      const lasting = outfit.charge === null ? "the fuel" : "a battery set";
      return `a sortie to the far end takes ${refusal.actual.toFixed(1)} min, ${lasting} lasts ${refusal.allowed.toFixed(1)}`;
    }
  }
}
