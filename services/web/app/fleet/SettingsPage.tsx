import { useCallback, useState } from "react";
import type { Operation } from "../../../../shared/model/operation.ts";
import { ask, pathOf } from "../api/call.ts";
import { Shown } from "../kit/states.tsx";
import { ThingFacts } from "../kit/thing/ThingFacts.tsx";
import { type Opened, ThingForm } from "../kit/thing/ThingForm.tsx";
import { useFacts } from "../kit/thing/ThingPage.tsx";
import { useShapes } from "../kit/thing/useDocument.ts";
import { useAsked } from "../kit/useAsked.ts";
import { fleetWords as words } from "../strings/fleet.ts";
import { formWords } from "../strings/forms.ts";

const ownLists = ["bases", "waterPoints"];
const fixed = ["name"];
const place = () => ["settings"];

/** What holds for the whole operation. */
export function SettingsPage({
  mayChange,
  onChanged,
  operation,
  operationId,
}: {
  readonly operation: Operation;
  readonly operationId: string;
  readonly mayChange: boolean;
  readonly onChanged: () => void;
}) {
  const [isChanging, setIsChanging] = useState(false);
  const address = pathOf`/api/operations/${operationId}/settings`;
  const shapes = useShapes();
  const facts = useFacts(operation);
  const opened = useAsked<Opened>(
    useCallback(
      async (signal: AbortSignal) => {
        const { body, etag } = await ask<unknown>(address, { signal });
        return { value: body, etag };
      },
      [address],
    ),
  );
  return (
    <article className="thing">
      <h1>{words.settings}</h1>
      <p>{words.settingsText}</p>
      <Shown asked={shapes}>
        {({ settings }) =>
          isChanging ? (
            <Shown asked={opened}>
              {(known) => (
                <ThingForm
                  kind="settings"
                  shape={settings!}
                  operation={operation}
                  facts={facts}
                  begin={null}
                  opened={known}
                  fixed={fixed}
                  addressOf={() => address}
                  placeOf={place}
                  onCancel={() => setIsChanging(false)}
                  onSaved={() => {
                    setIsChanging(false);
                    onChanged();
                    opened.again();
                  }}
                />
              )}
            </Shown>
          ) : (
            <>
              {mayChange && (
                <p className="buttons">
                  <button
                    type="button"
                    onClick={() => {
                      opened.again();
                      setIsChanging(true);
                    }}
                  >
                    {formWords.change}
                  </button>
                </p>
              )}
              <ThingFacts shape={settings!} value={operation.settings} facts={facts} except={ownLists} />
            </>
          )
        }
      </Shown>
    </article>
  );
}
