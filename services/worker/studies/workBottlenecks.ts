import { bottlenecksAskSchema } from "../../../shared/contracts/studies.ts";
import { loadHighs } from "../../linear/highs.ts";
import { usualThreads } from "../../threads/usualThreads.ts";
import { type FoundBottlenecks, findBottlenecks } from "../../whatif/findBottlenecks.ts";
import { runsThatFit } from "../runsThatFit.ts";
import type { WorkPart } from "./workPart.ts";

/** The whole study in one part, which plans again in threads of its own: they end with this one. */
export const workBottlenecks: WorkPart<FoundBottlenecks> = async ({ input }, onShare) => {
  const { operation, plan } = input;
  const threads = Math.min(usualThreads(), runsThatFit(operation));
  if (plan === null) throw new Error("a study of bottlenecks is of a plan");
  const ask = { operation, plan, ...bottlenecksAskSchema.parse(input.ask), threads };
  return findBottlenecks(ask, await loadHighs(), (_words, share) => onShare(share));
};
