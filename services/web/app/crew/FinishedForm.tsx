import { useState } from "react";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import type { FormProps } from "./forms.ts";
import type { Used } from "./makeReport.ts";
import { NumberField } from "./NumberField.tsx";
import { asTyped, quantitiesIn, typed } from "./quantities.ts";
import { ReportForm } from "./ReportForm.tsx";

/** How much was done of the stop; usually all of it, as planned. */
export function FinishedForm({ onClose, onTell, stop }: FormProps) {
  const units = useUnits();
  const quantities = quantitiesIn(units.system);
  // Untouched it is all of the stop, to the last digit.
  const [done, setDone] = useState<string | null>(null);
  const [usedTexts, setUsedTexts] = useState<Readonly<Record<string, string>>>({});
  const [fault, setFault] = useState<string | null>(null);
  const label = words.doneHa(quantities.area.unit);
  const products = stop.mix.whole.parts.map(({ name, productId, unit }) => {
    const quantity = unit === "L" ? quantities.volume : quantities.mass;
    return { productId, quantity, label: words.usedOf(name, quantity.unit) };
  });
  const send = () => {
    const read =
      done === null ? ({ status: "given", value: stop.areaHa } as const) : typed(done, label, quantities.area);
    if (read.status !== "given") {
      setFault(read.status === "faulty" ? read.sentence : words.notNumber(label, "0", units.areaHa(stop.areaHa)));
      return;
    }
    const used: Used[] = [];
    for (const product of products) {
      const amount = typed(usedTexts[product.productId] ?? "", product.label, product.quantity, true);
      if (amount.status === "faulty") {
        setFault(amount.sentence);
        return;
      }
      if (amount.status === "given") used.push({ productId: product.productId, amount: amount.value });
    }
    onTell({ kind: "finished", doneHa: read.value, ...(used.length > 0 ? { used } : {}) });
  };
  return (
    <ReportForm title={words.finishedTitle(stop.fieldName)} fault={fault} onSend={send} onClose={onClose}>
      <NumberField
        label={label}
        value={done ?? asTyped(stop.areaHa, quantities.area)}
        onChange={setDone}
        hint={words.doneHint(units.areaHa(stop.areaHa))}
      />
      <details>
        <summary>{words.usedTitle}</summary>
        <p>{words.usedText}</p>
        {products.map((product) => (
          <NumberField
            key={product.productId}
            label={product.label}
            value={usedTexts[product.productId] ?? ""}
            onChange={(text) => setUsedTexts((before) => ({ ...before, [product.productId]: text }))}
          />
        ))}
      </details>
    </ReportForm>
  );
}
