import { type ReactNode, useCallback, useMemo, useState } from "react";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { ask, pathOf } from "../../api/call.ts";
import { go } from "../../place.ts";
import { common } from "../../strings/common.ts";
import { formWords as words } from "../../strings/forms.ts";
import { thingWords } from "../../strings/things.ts";
import { useUnitSystem } from "../../units/units.ts";
import { optionsIn, productRateUnits } from "../form/context.ts";
import { emptyOf, type Shape } from "../form/shape.ts";
import { Empty, Shown } from "../states.tsx";
import { useAsked } from "../useAsked.ts";
import { RemoveDialog } from "./RemoveDialog.tsx";
import { ThingFacts } from "./ThingFacts.tsx";
import { type Opened, ThingForm } from "./ThingForm.tsx";
import { entriesOf, keyOf, placeOf, type ThingName, thingKinds } from "./things.ts";
import { titlesOf } from "./titles.ts";
import { useShapes } from "./useDocument.ts";
import type { FactsContext } from "./words.ts";
import "./thing.css";

/** In addresses, in the place of a thing's key: one that is to be added. No id begins so. */
export const newKey = "+";

export interface ThingPageProps {
  readonly kind: ThingName;
  readonly thingKey: string;
  readonly operationId: string;
  readonly operation: Operation;
  readonly mayChange: boolean;
  /** The operation has changed. */
  readonly onChanged: () => void;
  /** Of the list that the thing stands in. */
  readonly backTo: string;
  /** Of another thing of the kind. */
  readonly placeOfKey: (key: string) => string;
  /** What is told of it beside what is stored. */
  readonly children?: ReactNode;
}

/** What is known of the units, money and names that a thing is told in. */
export function useFacts(operation: Operation): FactsContext {
  const system = useUnitSystem();
  return useMemo(
    () => ({
      system,
      currency: operation.settings.currency,
      optionsOf: (list) => optionsIn(operation, list),
      rateUnitOfProduct: productRateUnits(operation),
    }),
    [system, operation],
  );
}

/** One thing of the operation: readable, to be changed, to be removed; or a new one. */
export function ThingPage(props: ThingPageProps) {
  const shapes = useShapes();
  return <Shown asked={shapes}>{(known) => <Thing {...props} shape={known[props.kind]!} />}</Shown>;
}

function Thing(props: ThingPageProps & { readonly shape: Shape }) {
  const { backTo, children, kind, mayChange, onChanged, operation, operationId, placeOfKey, shape, thingKey } = props;
  const [mode, setMode] = useState<"read" | "change" | "remove">("read");
  const facts = useFacts(operation);
  const isNew = thingKey === newKey;
  const one = thingWords[kind]!.one;
  const entry = entriesOf(kind, operation).find((each) => keyOf(kind, each) === thingKey);
  const address = pathOf`/api/operations/${operationId}/${kind}/${thingKey}`;
  const back = <a href={backTo}>{words.back}</a>;
  if (!isNew && entry === undefined) {
    return (
      <Empty>
        <p>{words.notThere}</p>
        {back}
      </Empty>
    );
  }
  const isFeature = kind === "fields" || kind === "sensitive-places";
  const title = titlesOf(kind, operation).get(thingKey) ?? thingKey;
  return (
    <article className="thing">
      <p>{back}</p>
      <h1>{isNew ? words.add(one) : title === thingKey ? words.called(one, title) : title}</h1>
      {(isNew || mode === "change") && mayChange ? (
        <Changing
          {...props}
          facts={facts}
          address={address}
          onCancel={() => (isNew ? go(backTo) : setMode("read"))}
          onSaved={(value) => {
            onChanged();
            setMode("read");
            const key = keyOf(kind, value);
            if (isNew) go(placeOfKey(key), true);
          }}
        />
      ) : (
        <>
          {mayChange && (
            <p className="buttons">
              <button type="button" onClick={() => setMode("change")}>
                {words.change}
              </button>
              <button type="button" onClick={() => setMode("remove")}>
                {common.remove}
              </button>
            </p>
          )}
          {children}
          <ThingFacts
            shape={isFeature ? shape.properties!.properties! : shape}
            value={isFeature ? (entry as { properties: unknown }).properties : entry}
            facts={facts}
            except={["ground"]}
          />
        </>
      )}
      {mode === "remove" && (
        <RemoveDialog
          kind={kind}
          thingKey={thingKey}
          title={title}
          address={address}
          operation={operation}
          onClose={() => setMode("read")}
          onRemoved={() => {
            go(backTo, true);
            onChanged();
          }}
        />
      )}
    </article>
  );
}

function Changing({
  address,
  facts,
  kind,
  onCancel,
  onSaved,
  operation,
  operationId,
  shape,
  thingKey,
}: ThingPageProps & {
  readonly shape: Shape;
  readonly facts: FactsContext;
  readonly address: string;
  readonly onCancel: () => void;
  readonly onSaved: (value: unknown) => void;
}) {
  const isNew = thingKey === newKey;
  const opened = useAsked<Opened>(
    useCallback(
      async (signal: AbortSignal) => {
        if (isNew) return { value: null, etag: null };
        const { body, etag } = await ask<unknown>(address, { signal });
        return { value: body, etag };
      },
      [isNew, address],
    ),
  );
  return (
    <Shown asked={opened}>
      {(known) => (
        <ThingForm
          kind={kind}
          shape={shape}
          operation={operation}
          facts={facts}
          begin={beginOf(kind, shape)}
          opened={known}
          fixed={thingKinds[kind].keyMembers.map((member) => member.join("."))}
          addressOf={(value) => pathOf`/api/operations/${operationId}/${kind}/${keyOf(kind, value)}`}
          placeOf={(value) => placeOf(kind, operation, keyOf(kind, value))}
          onSaved={onSaved}
          onCancel={onCancel}
        />
      )}
    </Shown>
  );
}

/** Outlines are drawn, so there is none to begin with. */
function beginOf(kind: ThingName, shape: Shape): unknown {
  const empty = emptyOf(shape);
  if (kind !== "fields" && kind !== "sensitive-places") return empty;
  const { geometry: _, ...feature } = empty as { geometry: unknown };
  return feature;
}
