import { useState } from "react";
import { caseWords } from "../../strings/cases.ts";
import { Field } from "./Field.tsx";
import type { Steps } from "./faultPlaces.ts";
import { weatherFromCsv } from "./weatherCsv.ts";
import { useWriting } from "./writing.ts";

/** Weather from a file; what is stored is its rows. */
export function WeatherFileField({
  label,
  place,
  value,
}: {
  readonly label: string;
  readonly place: Steps;
  readonly value: unknown;
}) {
  const { isReadOnly, put } = useWriting();
  const [refused, setRefused] = useState<string | null>(null);
  const rows = Array.isArray(value) ? (value as { readonly start?: unknown }[]) : [];
  const hint =
    rows.length === 0
      ? caseWords.weatherFile.none
      : caseWords.weatherFile.has(rows.length, String(rows[0]?.start), String(rows.at(-1)?.start));
  return (
    <Field label={label} place={place} hint={refused ?? hint}>
      {(carried) => (
        <input
          {...carried}
          type="file"
          accept=".csv,text/csv"
          disabled={isReadOnly}
          onChange={({ target }) => {
            const file = target.files?.[0];
            if (!file) return;
            file.text().then(
              (text) => {
                const read = weatherFromCsv(text);
                setRefused(read.ok ? null : caseWords.weatherFile.badRow(read.row));
                if (read.ok) put(place, read.steps);
              },
              () => setRefused(caseWords.weatherFile.unreadable),
            );
          }}
        />
      )}
    </Field>
  );
}
