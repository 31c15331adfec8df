import { useState } from "react";
import type { StopReason } from "../../../../shared/done/workReport.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import type { FormProps } from "./forms.ts";
import { NumberField } from "./NumberField.tsx";
import { asTyped, quantitiesIn, typed } from "./quantities.ts";
import { ReportForm } from "./ReportForm.tsx";

const reasons = Object.entries(words.reasons) as [StopReason, string][];
const wordsMost = 2000;

/** Why the work stops, and how far it has come. */
export function StoppedForm({ onClose, onTell, stand, stop }: FormProps) {
  const units = useUnits();
  const { area } = quantitiesIn(units.system);
  const [reason, setReason] = useState<StopReason>("wind");
  const [said, setSaid] = useState("");
  // Untouched it is what the loads come to, to the last digit.
  const [done, setDone] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const label = words.doneHa(area.unit);
  const send = () => {
    const read = done === null ? ({ status: "given", value: stand.doneHa } as const) : typed(done, label, area);
    if (read.status !== "given") {
      setFault(read.status === "faulty" ? read.sentence : words.notNumber(label, "0", units.areaHa(stop.areaHa)));
      return;
    }
    onTell({ kind: "stopped", reason, words: said.trim(), doneHa: read.value });
  };
  return (
    <ReportForm title={words.stoppedTitle(stop.fieldName)} fault={fault} onSend={send} onClose={onClose}>
      <fieldset className="reasons">
        <legend>{words.reason}</legend>
        {reasons.map(([one, name]) => (
          <label key={one} className="inline">
            <input type="radio" name="reason" checked={reason === one} onChange={() => setReason(one)} />
            {name}
          </label>
        ))}
      </fieldset>
      <NumberField
        label={label}
        value={done ?? asTyped(stand.doneHa, area)}
        onChange={setDone}
        hint={words.doneHint(units.areaHa(stop.areaHa))}
      />
      <label>
        {words.words}
        <textarea rows={2} maxLength={wordsMost} value={said} onChange={({ target }) => setSaid(target.value)} />
      </label>
    </ReportForm>
  );
}
