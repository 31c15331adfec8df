import { useState } from "react";
import { ask, pathOf } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { say } from "../../kit/Say.tsx";
import { Failure } from "../../kit/states.tsx";
import { common } from "../../strings/common.ts";
import { planningWords as words } from "../../strings/planning.ts";

/** Throws away a draft that was made by hand. */
export function DiscardPlan({
  onClose,
  onGone,
  planId,
}: {
  readonly planId: string;
  readonly onClose: () => void;
  readonly onGone: () => void;
}) {
  const [error, setError] = useState<Error | null>(null);
  const discard = async () => {
    const path = pathOf`/api/plans/${planId}`;
    const { etag } = await ask(path);
    await ask(path, { method: "DELETE", ...(etag === null ? {} : { ifMatch: etag }) });
    say(words.discarded);
    onGone();
  };
  return (
    <Dialog title={words.discard} onClose={onClose}>
      <p>{words.discardQuestion}</p>
      {error !== null && <Failure error={error} />}
      <p className="buttons">
        <button type="button" className="main" onClick={() => discard().catch(setError)}>
          {words.discard}
        </button>
        <button type="button" onClick={onClose}>
          {common.cancel}
        </button>
      </p>
    </Dialog>
  );
}
