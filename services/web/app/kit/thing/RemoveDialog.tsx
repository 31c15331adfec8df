import { useState } from "react";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { ask } from "../../api/call.ts";
import { formWords as words } from "../../strings/forms.ts";
import { thingWords } from "../../strings/things.ts";
import { Dialog } from "../Dialog.tsx";
import { hangsOn } from "../form/hangsOn.ts";
import { say } from "../Say.tsx";
import { Failure } from "../states.tsx";
import { isThing, type ThingName } from "./things.ts";
import { titlesOf } from "./titles.ts";

/** Locks, roads and offers for hire have no page, and tell themselves by their keys. */
function titled(operation: Operation, kind: string, keys: readonly string[]): readonly string[] {
  if (!isThing(kind)) return keys;
  const titles = titlesOf(kind, operation);
  return keys.map((key) => titles.get(key) ?? key);
}

/** Asks before a thing is removed, and names what depends on it. */
export function RemoveDialog({
  address,
  kind,
  onClose,
  onRemoved,
  operation,
  thingKey,
  title,
}: {
  readonly kind: ThingName;
  readonly thingKey: string;
  readonly title: string;
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
    say(words.removed(one, title));
    onRemoved();
  };
  return (
    <Dialog title={words.removeTitle(one, title)} onClose={onClose}>
      {dependents.length === 0 ? (
        <p>{words.removeFree}</p>
      ) : (
        <>
          <p>{words.removeHangs}</p>
          <ul>
            {dependents.map(({ keys, kind: other }) => (
              <li key={other}>
                {thingWords[other]?.many ?? other}: {titled(operation, other, keys).join(", ")}
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
