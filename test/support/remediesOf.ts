import { findRemedies, type RemediesAsk } from "../../services/solver/remedies/findRemedies.ts";
import { createTrying } from "../../services/solver/remedies/tryChanges.ts";
import type { Remedies } from "../../shared/cases/remedy.ts";

/** Remedies tried one after the other, here. */
export function remediesOf(ask: RemediesAsk): Promise<Remedies> {
  const { operation, plan, iterations } = ask;
  const tryChanges = createTrying(operation, plan, { iterations });
  return findRemedies(ask, async (tasks) => tasks.map(tryChanges));
}
