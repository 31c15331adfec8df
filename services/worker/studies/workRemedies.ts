import type { Remedies } from "../../../shared/cases/remedy.ts";
import { remediesAskSchema } from "../../../shared/contracts/studies.ts";
import { usualThreads } from "../../threads/usualThreads.ts";
import { runRemedies } from "../runRemedies.ts";
import { runsThatFit } from "../runsThatFit.ts";
import type { WorkPart } from "./workPart.ts";

const threadScript = new URL("../remedyThread.ts", import.meta.url);

/** The whole study in one part, which tries in threads of its own: they end with this one. */
export const workRemedies: WorkPart<Remedies> = async ({ input }, onShare) => {
  const { operation, plan } = input;
  const threads = Math.min(usualThreads(), runsThatFit(operation));
  if (plan === null) throw new Error("a study of remedies is of a plan");
  const { orderId, ...asked } = remediesAskSchema.parse(input.ask);
  const ask = { operation, plan, ...asked, ...(orderId === undefined ? {} : { orderId }), threads };
  const { remedies, remarks } = await runRemedies(threadScript, ask, ({ tried, known }) => onShare(tried / known));
  // Without what a lost thread would have told the answer would be another one.
  if (remarks.length > 0) throw new Error(remarks.join("; "));
  return remedies;
};
