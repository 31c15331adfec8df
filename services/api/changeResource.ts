import type { z } from "zod";
import type { DefaultUsed } from "../../shared/model/defaultsUsed.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Judged } from "../store/changeOperation.ts";
import type { Store } from "../store/store.ts";
import { etagOf, isAsKnown } from "./etags.ts";
import { judgeDocument } from "./judgeDocument.ts";
import { changedMeanwhile, unknownThing } from "./problems.ts";
import type { Answer, Call } from "./route.ts";

/** One thing of an operation that is put or taken away. */
export interface ResourceChange {
  /** For the audit trail: its name in addresses and, of a list, its key. */
  readonly details: { readonly resource: string; readonly key?: string };
  /** The thing as it stands; undefined where there is none. */
  readonly present: (document: Operation) => unknown;
  /** What is to stand there; null: nothing. */
  readonly put: { readonly sent: unknown; readonly schema: z.ZodType } | null;
  /** The whole document that comes of it, whatever it is: it is judged then. */
  readonly made: (document: Operation) => unknown;
}

const refused = (refusal: Answer): Judged<Answer> => ({ outcome: "refused", refusal });

/**
 * The operation that would come of the change is judged as a whole: of what is faulty nothing is stored. A call whose wish stands already is answered as if it had done it (RFC 9110,
 * section 13.1.1), so that it may be sent again when its answer was lost.
 */
export async function changeResource(
  store: Store,
  operationId: string,
  change: ResourceChange,
  { acting, precondition }: Call,
): Promise<Answer> {
  const { put } = change;
  let defaultsUsed: DefaultUsed[] = [];
  let existed = false;
  let etag: string | undefined;

  const judge = ({ document }: { document: Operation }): Judged<Answer> => {
    const present = change.present(document);
    existed = present !== undefined;
    const presentEtag = existed ? etagOf(present) : null;
    if (put === null && !existed) return refused(unknownThing("thing of this operation"));
    const sent = put?.schema.safeParse(put.sent);
    if (presentEtag !== null && sent?.success && etagOf(sent.data) === presentEtag) {
      etag = presentEtag;
      return { outcome: "changed", document };
    }
    if (precondition === null || !isAsKnown(precondition, presentEtag)) return refused(changedMeanwhile);
    const judged = judgeDocument(change.made(document), put?.sent, document.settings.name);
    if (!judged.ok) return refused(judged.refusal);
    if (put !== null) etag = etagOf(change.present(judged.operation));
    defaultsUsed = judged.defaultsUsed;
    return { outcome: "changed", document: judged.operation };
  };

  const made = await store.changeOperation(operationId, judge, acting, change.details);
  if (made.outcome === "unknown") return unknownThing("operation");
  if (made.outcome === "refused") return made.refusal;
  return {
    kind: "body",
    status: put === null || existed ? 200 : 201,
    body: { operation: made.operation, defaultsUsed },
    ...(etag === undefined ? {} : { etag }),
  };
}
