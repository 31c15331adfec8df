import type { BaseId } from "../../../shared/model/quantities.ts";
import type { Proof, Worth } from "../../../shared/plan/plan.ts";
import { type Draft, type Mutation, mutation } from "./mutation.ts";

/** A plan with a bound that nothing speaks against, and then one thing that does. */
function onProof(name: string, change: (proof: Proof, worth: Worth, draft: Draft) => void): Mutation {
  return mutation("proof", name, (draft) => {
    const { plan, operation } = draft;
    const gapFrac = 0.25 * draft.random();
    const { crews } = operation.fleet;
    const worth: Worth = {
      thing: "dutyMin",
      date: plan.firstDay,
      baseId: crews[0]!.baseId,
      id: crews[0]!.id,
      cents: 12,
    };
    plan.proof = {
      boundCents: plan.score.totalCents / (1 + gapFrac),
      gapFrac,
      method: "routes",
      finished: true,
      worth: [worth],
    };
    change(plan.proof, worth, draft);
    return true;
  });
}

export const proofMutations: readonly Mutation[] = [
  onProof("a bound above the cost", (proof, _, { plan, random }) => {
    proof.boundCents = plan.score.totalCents + 1.1 + 1000 * random();
    proof.gapFrac = 0;
  }),
  onProof("a smaller gap", (proof) => {
    proof.boundCents *= 0.99;
  }),
  onProof("a greater gap", (proof) => {
    proof.gapFrac += 0.001;
  }),
  onProof("something worth at no base", (_, worth) => {
    worth.baseId = "NOBODY" as BaseId;
  }),
  onProof("something worth on a day that is not in the plan", (_, worth) => {
    worth.date = "2001-01-01";
  }),
  onProof("a crew that is not there", (_, worth) => {
    worth.id = "NOBODY";
  }),
  onProof("a crew's id for a tender", (_, worth) => {
    worth.thing = "tender";
  }),
  onProof("a charger with a name", (_, worth) => {
    worth.thing = "charger";
  }),
];
