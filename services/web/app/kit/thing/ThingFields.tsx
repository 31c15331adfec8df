import { useContext } from "react";
import type { FieldFeature, SensitiveFeature } from "../../../../../shared/model/field.ts";
import { memberLabels } from "../../../../../shared/model/memberWords.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { DrawField } from "../../map/DrawField.tsx";
import { formWords as words } from "../../strings/forms.ts";
import { FormFacts } from "../form/context.ts";
import { FormMembers } from "../form/FormField.tsx";
import { faultsAt } from "../form/placedFaults.ts";
import { leavesOf, type Shape } from "../form/shape.ts";
import { HazardFields } from "./HazardFields.tsx";

/** Both are lists of their own. */
const ownLists = ["bases", "waterPoints"];

/** The members of a thing; outlines are drawn, all else is made of the shape. */
export function ThingFields({
  draft,
  kind,
  operation,
  shape,
}: {
  readonly kind: string;
  readonly shape: Shape;
  readonly draft: unknown;
  readonly operation: Operation;
}) {
  const { put } = useContext(FormFacts)!;
  if (kind === "fields")
    return <FieldFields draft={draft as Partial<FieldFeature>} shape={shape} operation={operation} />;
  if (kind === "sensitive-places") return <PlaceFields draft={draft as Partial<SensitiveFeature>} shape={shape} />;
  const hasGround = kind === "orders" && (draft as { ground?: unknown }).ground !== undefined;
  const except = kind === "orders" ? ["ground"] : kind === "settings" ? ownLists : [];
  return (
    <>
      <div className="formGrid">
        <FormMembers shape={shape} value={draft} path={[]} around={[]} except={except} />
      </div>
      {hasGround && (
        <p>
          {words.partOnly}{" "}
          <button type="button" onClick={() => put(["ground"], undefined)}>
            {words.wholeField}
          </button>
        </p>
      )}
    </>
  );
}

function FieldFields({
  draft,
  operation,
  shape,
}: {
  readonly draft: Partial<FieldFeature>;
  readonly shape: Shape;
  readonly operation: Operation;
}) {
  const { faults, put } = useContext(FormFacts)!;
  const { geometry = null, properties } = draft;
  const ofGround = [...faultsAt(faults, ["geometry"], true), ...faultsAt(faults, ["properties", "pads"], true)];
  const around = operation.fields.features
    .filter((feature) => feature.properties.id !== properties?.id)
    .map((feature) => ({ name: feature.properties.name, geometry: feature.geometry }));
  return (
    <>
      <div className="formGrid">
        <FormMembers
          shape={shape.properties!.properties!}
          value={properties}
          path={["properties"]}
          around={[]}
          except={["pads", "hazards"]}
        />
      </div>
      <HazardFields shape={shape.properties!.properties!.properties!.hazards!} value={properties?.hazards ?? []} />
      <section>
        <h2>{words.outline}</h2>
        {ofGround.length > 0 && (
          <p className="fieldFault">{ofGround.map(({ expected }) => words.expected(expected)).join(" ")}</p>
        )}
        <DrawField
          value={{ geometry, pads: properties?.pads ?? [] }}
          around={around}
          onChange={(drawn) => {
            put(["geometry"], drawn.geometry ?? undefined);
            put(["properties", "pads"], drawn.pads);
          }}
        />
      </section>
    </>
  );
}

function PlaceFields({ draft, shape }: { readonly draft: Partial<SensitiveFeature>; readonly shape: Shape }) {
  const { put } = useContext(FormFacts)!;
  const { geometry, properties } = draft;
  const [lonDeg, latDeg] = geometry?.type === "Point" ? geometry.coordinates : [undefined, undefined];
  const putPoint = (at: 0 | 1, typed: string) => {
    const coordinates: (number | undefined)[] = [lonDeg, latDeg];
    coordinates[at] = typed === "" || Number.isNaN(Number(typed)) ? undefined : Number(typed);
    put(["geometry"], { type: "Point", coordinates });
  };
  return (
    <div className="formGrid">
      <FormMembers shape={shape.properties!.properties!} value={properties} path={["properties"]} around={[]} />
      {geometry === undefined || geometry.type === "Point" ? (
        <>
          <label>
            {memberLabels.latDeg}
            <input type="number" step="any" value={latDeg ?? ""} onChange={({ target }) => putPoint(1, target.value)} />
          </label>
          <label>
            {memberLabels.lonDeg}
            <input type="number" step="any" value={lonDeg ?? ""} onChange={({ target }) => putPoint(0, target.value)} />
          </label>
        </>
      ) : (
        <p>
          {memberLabels.geometry}: {words.corners(leavesOf(geometry.coordinates).length / 2)}
        </p>
      )}
    </div>
  );
}
