import { digestOf } from "../store/digest.ts";
import type { Store } from "../store/store.ts";
import { isAsKnown, versionEtag } from "./etags.ts";
import { judgeDocument } from "./judgeDocument.ts";
import { changedMeanwhile, unknownThing } from "./problems.ts";
import type { Answer, Call } from "./route.ts";

/** As an import, but of the version that the caller has read, and by its id. */
export async function replaceOperation(
  store: Store,
  operationId: string,
  sent: unknown,
  { acting, precondition }: Call,
): Promise<Answer> {
  const known = await store.operationSummary(operationId);
  if (!known) return unknownThing("operation");
  const judged = judgeDocument(sent, sent, known.name);
  if (!judged.ok) return judged.refusal;
  const digest = digestOf(judged.operation);
  const made = await store.changeOperation<Answer>(
    operationId,
    (latest) =>
      // What stands already may be sent again, as when an answer was lost.
      latest.digest === digest || (precondition !== null && isAsKnown(precondition, versionEtag(latest)))
        ? { outcome: "changed", document: judged.operation }
        : { outcome: "refused", refusal: changedMeanwhile },
    acting,
    {},
  );
  if (made.outcome === "unknown") return unknownThing("operation");
  if (made.outcome === "refused") return made.refusal;
  const { operation } = made;
  return {
    kind: "body",
    status: 200,
    body: { operation, defaultsUsed: judged.defaultsUsed },
    etag: versionEtag(operation),
  };
}
