import type { Operation } from "../../../../../shared/model/operation.ts";
import { changeWordsOfForms } from "../../strings/caseChanges.ts";
import { caseWords } from "../../strings/cases.ts";
import { BuysForm } from "./BuysForm.tsx";
import type { Draft } from "./draft.ts";
import { Faults } from "./Field.tsx";
import { faultsOfWhole, type Steps } from "./faultPlaces.ts";
import { ChoiceField, NumberField } from "./inputs.tsx";
import { choicesOf } from "./things.ts";
import { useWriting } from "./writing.ts";

const words = caseWords.curve;
const place: Steps = ["cases", "curve"];

function beginCurve({ fleet, settings }: Operation): Draft {
  return {
    typeId: fleet.aircraftTypes[0]?.id,
    baseId: settings.bases[0]?.id,
    fewer: 1,
    upTo: 3,
    batterySets: 2,
  };
}

/** Margin against the number of aircraft of one type, with what comes with each. */
export function CurveForm({ curve }: { readonly curve: Draft | undefined }) {
  const { faults, isReadOnly, operation, put } = useWriting();
  const at = (member: string): Steps => [...place, member];
  if (curve === undefined && isReadOnly) return null;
  const charger = curve?.charger as Draft | undefined;
  return (
    <section className="part">
      <h2>{words.title}</h2>
      <p>{words.text}</p>
      {curve === undefined ? (
        <button type="button" onClick={() => put(place, beginCurve(operation))}>
          {words.add}
        </button>
      ) : (
        <>
          <div className="fieldGrid">
            <ChoiceField
              label={words.type}
              place={at("typeId")}
              value={curve.typeId}
              choices={choicesOf("aircraftTypes", operation)}
            />
            <ChoiceField
              label={words.base}
              place={at("baseId")}
              value={curve.baseId}
              choices={choicesOf("bases", operation)}
            />
            <NumberField label={words.fewer} place={at("fewer")} value={curve.fewer} of="count" />
            <NumberField label={words.upTo} place={at("upTo")} value={curve.upTo} of="count" />
            <NumberField label={words.batterySets} place={at("batterySets")} value={curve.batterySets} of="count" />
            <ChoiceField
              label={words.crewLike}
              place={at("crewLike")}
              value={curve.crewLike}
              choices={choicesOf("crews", operation)}
              whenEmpty={words.none}
            />
            <ChoiceField
              label={words.tenderLike}
              place={at("tenderLike")}
              value={curve.tenderLike}
              choices={choicesOf("tenders", operation)}
              whenEmpty={words.none}
            />
            <ChoiceField
              label={words.charger}
              place={[...at("charger"), "is"]}
              value={charger !== undefined}
              choices={[
                { id: false, words: changeWordsOfForms.no },
                { id: true, words: changeWordsOfForms.yes },
              ]}
              onChoose={(is) => put(at("charger"), is ? { bays: 2, kw: 18 } : undefined)}
            />
            {charger !== undefined && (
              <>
                <NumberField
                  label={changeWordsOfForms.fields.bays}
                  place={[...at("charger"), "bays"]}
                  value={charger.bays}
                  of="count"
                />
                <NumberField
                  label={changeWordsOfForms.fields.chargerKw}
                  place={[...at("charger"), "kw"]}
                  value={charger.kw}
                  of="powerKw"
                />
              </>
            )}
          </div>
          <BuysForm title={words.eachCosts} value={curve.buys} place={at("buys")} />
          <Faults faults={faultsOfWhole(faults, place).map(({ expected }) => expected)} />
          {!isReadOnly && (
            <button type="button" onClick={() => put(place, undefined)}>
              {words.remove}
            </button>
          )}
        </>
      )}
    </section>
  );
}
