import { useState } from "react";
import type { AirMeasured } from "../../../../shared/done/workReport.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import type { FormProps } from "./forms.ts";
import { judgeAir } from "./measuredAir.ts";
import { NumberField } from "./NumberField.tsx";
import { quantitiesIn, typed } from "./quantities.ts";
import { ReportForm } from "./ReportForm.tsx";
import { Verdict } from "./Verdict.tsx";

const degPerPoint = 45;
const names = ["wind", "gust", "temperature", "humidity", "height"] as const;
type Name = (typeof names)[number];

/** What the instrument says on site, judged while it is typed. */
export function ConditionsForm({ altitudeM, onClose, onTell, stop }: FormProps & { readonly altitudeM: number }) {
  const { system } = useUnits();
  const quantities = quantitiesIn(system);
  const [texts, setTexts] = useState<Readonly<Partial<Record<Name, string>>>>({});
  const [from, setFrom] = useState("");
  const [where, setWhere] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const labels: Record<Name, string> = {
    wind: words.wind(quantities.wind.unit),
    gust: words.gust(quantities.gust.unit),
    temperature: words.temperature(quantities.temperature.unit),
    humidity: words.humidity,
    height: words.height(quantities.height.unit),
  };
  const read = Object.fromEntries(
    names.map((name) => [name, typed(texts[name] ?? "", labels[name], quantities[name], name === "height")]),
  ) as Record<Name, ReturnType<typeof typed>>;
  const measuredOf = (name: Name) => (read[name].status === "given" ? read[name].value : undefined);
  const air = airOf(measuredOf, from, where);

  const send = () => {
    const faulty = names.map((name) => read[name]).find(({ status }) => status === "faulty");
    if (faulty?.status === "faulty") setFault(faulty.sentence);
    else if (air === null) setFault(words.notNumber(labels.wind, "0", `200 ${quantities.wind.unit}`));
    else onTell({ kind: "conditions", air });
  };
  const field = (name: Name) => (
    <NumberField
      label={labels[name]}
      value={texts[name] ?? ""}
      onChange={(text) => setTexts((before) => ({ ...before, [name]: text }))}
    />
  );
  return (
    <ReportForm
      title={words.conditionsTitle}
      fault={fault}
      onSend={send}
      onClose={onClose}
      verdict={air !== null && <Verdict verdict={judgeAir(air, stop.siteLimits, altitudeM, system)} />}
    >
      <div className="pairs">
        {field("wind")}
        <label>
          {words.windFrom}
          <select value={from} onChange={({ target }) => setFrom(target.value)}>
            <option value="">{words.notSaid}</option>
            {words.compass.map((point, at) => (
              <option key={point} value={at * degPerPoint}>
                {point}
              </option>
            ))}
          </select>
        </label>
        {field("gust")}
        {field("temperature")}
        {field("humidity")}
      </div>
      <details className="fold">
        <summary>{words.moreMeasured}</summary>
        {field("height")}
        <label>
          {words.where}
          <input value={where} maxLength={2000} onChange={({ target }) => setWhere(target.value)} />
        </label>
      </details>
      <p className="quiet">{words.optional}</p>
    </ReportForm>
  );
}

/** Null: without a wind nothing was measured. */
function airOf(measuredOf: (name: Name) => number | undefined, from: string, where: string): AirMeasured | null {
  const [windKph, gustKph, temperatureC, humidityPct, heightM] = names.map(measuredOf);
  if (windKph === undefined) return null;
  return {
    windKph,
    ...(gustKph === undefined ? {} : { gustKph }),
    ...(from === "" ? {} : { windFromDeg: Number(from) }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
    ...(humidityPct === undefined ? {} : { humidityPct }),
    ...(heightM === undefined ? {} : { heightM }),
    where: where.trim(),
  };
}
