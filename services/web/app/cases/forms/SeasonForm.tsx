import { caseWords } from "../../strings/cases.ts";
import type { Draft } from "./draft.ts";
import { Faults } from "./Field.tsx";
import { faultsOfWhole, type Steps } from "./faultPlaces.ts";
import { ChoiceField, NumberField, TextField } from "./inputs.tsx";
import { WeatherFileField } from "./WeatherFileField.tsx";
import { useWriting } from "./writing.ts";

const words = caseWords.season;
const place: Steps = ["season"];
const at = (...members: Steps): Steps => [...place, "document", ...members];
const usualOrdersPerWeek = 40;

/** Our choice of figures to begin with: the month that the operation's week lies in. */
function beginSeason(firstDay: string): Draft {
  const month = firstDay.slice(0, "2027-06".length);
  const [year, number] = month.split("-").map(Number);
  const last = new Date(Date.UTC(year!, number!, 0)).toISOString().slice(0, "2027-06-30".length);
  return {
    document: {
      formatVersion: 1,
      name: month,
      demand: [{ from: `${month}-01`, to: last, ordersPerWeek: usualOrdersPerWeek }],
      mandatory: "drawn",
      weather: { meanRunDays: 3, windowDays: 15 },
    },
    weather: [],
  };
}

/** From which weeks of orders and weather are drawn. */
export function SeasonForm({ season }: { readonly season: Draft | undefined }) {
  const { faults, isReadOnly, operation, put } = useWriting();
  if (season === undefined && isReadOnly) return null;
  const document = (season?.document ?? {}) as Draft;
  const demand = Array.isArray(document.demand) ? (document.demand as Draft[]) : [];
  const weather = (document.weather ?? {}) as Draft;
  return (
    <section className="part">
      <h2>{words.title}</h2>
      <p>{words.text}</p>
      {season === undefined ? (
        <button type="button" onClick={() => put(place, beginSeason(operation.settings.firstDay))}>
          {words.add}
        </button>
      ) : (
        <>
          <div className="fieldGrid">
            <TextField label={words.name} place={at("name")} value={document.name} />
            <ChoiceField
              label={words.mandatory}
              place={at("mandatory")}
              value={document.mandatory ?? "drawn"}
              choices={Object.entries(words.mandatoryAs).map(([id, label]) => ({ id, words: label }))}
            />
            <NumberField
              label={words.run}
              place={at("weather", "meanRunDays")}
              value={weather.meanRunDays}
              of="count"
            />
            <NumberField
              label={words.window}
              place={at("weather", "windowDays")}
              value={weather.windowDays}
              of="count"
            />
            <WeatherFileField label={words.history} place={[...place, "weather"]} value={season.weather} />
          </div>
          <fieldset className="buys">
            <legend>{words.demand}</legend>
            {demand.map((span, number) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: spans have nothing else to be told apart by.
              <div className="fieldGrid" key={`${demand.length} ${number}`}>
                <TextField label={words.from} type="date" place={at("demand", number, "from")} value={span.from} />
                <TextField label={words.to} type="date" place={at("demand", number, "to")} value={span.to} />
                <NumberField
                  label={words.orders}
                  place={at("demand", number, "ordersPerWeek")}
                  value={span.ordersPerWeek}
                  of="count"
                />
                <NumberField
                  label={words.area}
                  place={at("demand", number, "areaHaPerWeek")}
                  value={span.areaHaPerWeek}
                  of="areaHa"
                />
                {!isReadOnly && demand.length > 1 && (
                  <button type="button" onClick={() => put(at("demand", number), undefined)}>
                    {words.removeSpan}
                  </button>
                )}
                <Faults faults={faultsOfWhole(faults, at("demand", number)).map(({ expected }) => expected)} />
              </div>
            ))}
            {!isReadOnly && (
              <button
                type="button"
                onClick={() => put(at("demand", demand.length), { ordersPerWeek: usualOrdersPerWeek })}
              >
                {words.addSpan}
              </button>
            )}
          </fieldset>
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
