import { useState } from "react";
import { caseWords } from "../../strings/cases.ts";
import type { Draft } from "./draft.ts";
import { Faults } from "./Field.tsx";
import { faultsOfWhole, type Steps } from "./faultPlaces.ts";
import { ChoiceField, NumberField, TextField } from "./inputs.tsx";
import { useWriting } from "./writing.ts";

const words = caseWords.buys;

/** What a case, or each one more of a curve, costs to own: as the fleet says, or listed. */
export function BuysForm({
  place,
  title,
  value,
}: {
  readonly title: string;
  readonly value: unknown;
  readonly place: Steps;
}) {
  const { isReadOnly, put } = useWriting();
  const isListed = Array.isArray(value);
  const lines = isListed ? (value as Draft[]) : [];
  return (
    <fieldset className="buys">
      <legend>{title}</legend>
      <div className="fieldGrid wideFirst">
        <ChoiceField
          label={words.from}
          place={[...place, "from"]}
          value={isListed ? "listed" : "fleet"}
          choices={[
            { id: "fleet", words: words.asFleet },
            { id: "listed", words: words.listed },
          ]}
          onChoose={(id) => put(place, id === "listed" ? [{ what: "" }] : undefined)}
        />
      </div>
      {lines.map((line, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines have nothing else to be told apart by.
        <Buy key={`${lines.length} ${at}`} line={line} place={[...place, at]} />
      ))}
      {isListed && !isReadOnly && (
        <button type="button" onClick={() => put([...place, lines.length], { what: "" })}>
          {words.add}
        </button>
      )}
    </fieldset>
  );
}

function Buy({ line, place }: { readonly line: Draft; readonly place: Steps }) {
  const { faults, isReadOnly, put } = useWriting();
  const [isHired, setIsHired] = useState("perYearCents" in line);
  const at = (member: string): Steps => [...place, member];
  return (
    <div className="fieldGrid buy">
      <TextField label={words.what} place={at("what")} value={line.what} />
      <ChoiceField
        label={words.kind}
        place={at("kind")}
        value={isHired ? "hired" : "bought"}
        choices={[
          { id: "bought", words: words.bought },
          { id: "hired", words: words.hired },
        ]}
        onChoose={(id) => {
          setIsHired(id === "hired");
          put(place, { what: line.what ?? "" });
        }}
      />
      {isHired ? (
        <NumberField label={words.perYear} place={at("perYearCents")} value={line.perYearCents} of="moneyCents" />
      ) : (
        <>
          <NumberField label={words.price} place={at("priceCents")} value={line.priceCents} of="moneyCents" />
          <NumberField label={words.years} place={at("years")} value={line.years} of="timeYears" />
          <NumberField
            label={words.salvage}
            hint={words.salvageHint}
            place={at("salvageCents")}
            value={line.salvageCents}
            of="moneyCents"
          />
        </>
      )}
      {!isReadOnly && (
        <button type="button" onClick={() => put(place, undefined)}>
          {words.remove}
        </button>
      )}
      <Faults faults={faultsOfWhole(faults, place).map(({ expected }) => expected)} />
    </div>
  );
}
