import { useState } from "react";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { ask } from "../../api/call.ts";
import { formWords as words } from "../../strings/forms.ts";
import { thingWords } from "../../strings/things.ts";
import { Dialog } from "../Dialog.tsx";
import { hangsOn } from "../form/hangsOn.ts";
import { say } from "../Say.tsx";
import { Failure } from "../states.tsx";
import type { ThingName } from "./things.ts";

/** Asks before a thing is removed, and names what depends on it. */
export function RemoveDialog({
  address,
  kind,
  onClose,
  onRemoved,
  operation,
  thingKey,
}: {
  readonly kind: ThingName;
  readonly thingKey: string;
  /** Of the thing in the API. */
  readonly address: string;
  readonly operation: Operation;
  readonly onClose: () => void;
  readonly onRemoved: () => void;
}) {
  const [error, setError] = useState<Error | null>(null);
  const one = thingWords[kind]!.one;
  const dependents = hangsOn(operation, kind, thingKey);
  const remove = async () => {
    const { etag } = await ask(address);
    await ask(address, { method: "DELETE", ifMatch: etag! });
    say(words.removed(one, thingKey));
    onRemoved();
  };
  return (
    <Dialog title={words.removeTitle(one, thingKey)} onClose={onClose}>
      {dependents.length === 0 ? (
        <p>{words.removeFree}</p>
      ) : (
        <>
          <p>{words.removeHangs}</p>
          <ul>
            {dependents.map(({ keys, kind: other }) => (
              <li key={other}>
                {thingWords[other]?.many ?? other}: {keys.join(", ")}
              </li>
            ))}
          </ul>
        </>
      )}
      {error && <Failure error={error} />}
      <p className="buttons">
        <button type="button" className="main" onClick={onClose}>
          {words.keep}
        </button>
        <button type="button" onClick={() => remove().catch(setError)}>
          {words.removeReally}
        </button>
      </p>
    </Dialog>
  );
}
