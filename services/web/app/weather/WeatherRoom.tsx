import { type ReactNode, useMemo, useState } from "react";
import type { Operation } from "../../../../shared/model/operation.ts";
import { shortDayWords, shortDayWordsWithYear } from "../kit/dates.ts";
import { Empty, Shown } from "../kit/states.tsx";
import { Tabs } from "../kit/Tabs.tsx";
import { useDocument } from "../kit/thing/useDocument.ts";
import { WithOperation } from "../kit/WithOperation.tsx";
import { addressOf } from "../place.ts";
import type { RoomProps } from "../rooms.ts";
import { weatherWords as words } from "../strings/weather.ts";
import { CalmDays } from "./CalmDays.tsx";
import { calmDays } from "./calmDays.ts";
import { ForecastDrop } from "./ForecastDrop.tsx";
import { flyingSpans } from "./flyingSpans.ts";
import { HourTable } from "./HourTable.tsx";
import { stationHours, stationsOf, windLimits } from "./stationHours.ts";
import { stationWords } from "./stationWords.ts";
import { WeatherCharts } from "./WeatherCharts.tsx";
import "./weather.css";

/** `#weather`, `#weather/STATION`. */
export default function WeatherRoom({ session, within }: RoomProps) {
  const mayChange = session.roles.includes("dispatcher") && !session.readOnly;
  return (
    <WithOperation>
      {({ id }, again) => <Room key={id} operationId={id} station={within[0]} mayChange={mayChange} onTaken={again} />}
    </WithOperation>
  );
}

function Room({
  mayChange,
  onTaken,
  operationId,
  station,
}: {
  readonly operationId: string;
  readonly station: string | undefined;
  readonly mayChange: boolean;
  readonly onTaken: () => void;
}) {
  const asked = useDocument(operationId);
  return (
    <Shown asked={asked}>
      {({ document }) => (
        <Station operation={document} wanted={station}>
          {mayChange && (
            <details className="newForecast">
              <summary>{words.takeIn}</summary>
              <p>{words.takeInText}</p>
              <ForecastDrop
                operationId={operationId}
                onTaken={() => {
                  asked.again();
                  onTaken();
                }}
              />
            </details>
          )}
        </Station>
      )}
    </Shown>
  );
}

function Station({
  children,
  operation,
  wanted,
}: {
  readonly operation: Operation;
  readonly wanted: string | undefined;
  /** How other weather comes in. */
  readonly children: ReactNode;
}) {
  const stations = useMemo(() => stationsOf(operation), [operation]);
  const station = stations.find((one) => one === wanted) ?? stations[0];
  const hours = useMemo(() => (station === undefined ? [] : stationHours(operation, station)), [operation, station]);
  const limits = useMemo(() => windLimits(operation), [operation]);
  const { settings } = operation;
  const flying = useMemo(() => flyingSpans(hours, settings), [hours, settings]);
  const days = useMemo(() => calmDays(hours, limits, flying, settings), [hours, limits, flying, settings]);
  const [chosen, setChosen] = useState<string | null>(settings.firstDay);
  const planned = useMemo(() => hours.filter(({ date }) => days.some((day) => day.date === date)), [hours, days]);
  const shown = useMemo(() => hours.filter(({ date }) => chosen === null || date === chosen), [hours, chosen]);
  if (station === undefined) {
    return (
      <>
        <Empty>{words.none}</Empty>
        {children}
      </>
    );
  }
  const { forecastIssued, timeZone } = settings;
  const dates = [...new Set([...days, ...hours].map(({ date }) => date))].sort();
  const called = stationWords(station, stations);
  return (
    <section>
      <h1>{words.title(called)}</h1>
      <p>
        {forecastIssued === undefined ? words.issuedAtStart : words.issued(shortDayWordsWithYear(forecastIssued))}{" "}
        {stations.length > 1 && words.nearest}
      </p>
      {children}
      {stations.length > 1 && (
        <Tabs
          name={words.station}
          present={station}
          parts={stations.map((one) => ({
            key: one,
            title: stationWords(one, stations),
            address: addressOf("weather", one),
          }))}
        />
      )}
      <CalmDays days={days} chosen={chosen} onChoose={setChosen} />
      <h2>{words.hours(called)}</h2>
      <label className="dayChoice">
        {words.day}
        <select value={chosen ?? ""} onChange={({ target }) => setChosen(target.value === "" ? null : target.value)}>
          {dates.map((date) => (
            <option key={date} value={date}>
              {shortDayWords(date)}
            </option>
          ))}
          <option value="">{words.allDays}</option>
        </select>
      </label>
      <HourTable key={station} hours={shown} limits={limits} flying={flying} station={called} />
      <h2>{words.lines}</h2>
      <WeatherCharts
        hours={planned.length > 0 ? planned : hours}
        limits={limits}
        station={called}
        timeZone={timeZone}
      />
    </section>
  );
}
