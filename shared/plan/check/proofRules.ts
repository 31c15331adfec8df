import type { Worth } from "../plan.ts";
import type { Facts } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";

/**
 * What can be judged of a plan's bound without proving it again: that this very plan does not refute it, that the gap is the one between the two, and that what
 * is said to be worth something is there.
 */
export function checkProof({ plan, operation, calendar }: Facts, ledger: Ledger): void {
  const { proof, score } = plan;
  if (proof === undefined) return;
  const { boundCents, gapFrac } = proof;
  ledger.expect("proof", boundCents <= score.totalCents + 1, {}, () => ({
    sentence: `the plan costs ${shown(score.totalCents)} and says that none can cost less than ${shown(boundCents)}`,
    actual: boundCents,
    allowed: score.totalCents,
  }));
  const gap = Math.max(0, score.totalCents / boundCents - 1);
  ledger.expect("proof", Math.abs(gapFrac - gap) <= rounding, {}, () => ({
    sentence: `the gap between cost and bound is ${shown(gap)}, the plan says ${shown(gapFrac)}`,
    actual: gapFrac,
    allowed: gap,
  }));
  const { fleet, settings } = operation;
  const known: Record<Worth["thing"], readonly { readonly id: string }[]> = {
    aircraft: fleet.aircraftTypes,
    tender: fleet.tenders,
    charger: [],
    dutyMin: fleet.crews,
  };
  for (const { thing, date, baseId, id } of proof.worth) {
    const isNamed = thing === "charger" ? id === undefined : known[thing].some((one) => one.id === id);
    const isThere = settings.bases.some((base) => base.id === baseId) && calendar.dates.includes(date);
    ledger.expect("proof", isNamed && isThere, {}, () => ({
      sentence: `the bound speaks of ${thing} ${id ?? ""} at ${baseId} on ${date}, which the operation does not know`,
    }));
  }
}
