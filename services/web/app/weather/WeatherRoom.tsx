import { useMemo } from "react";
import type { Operation } from "../../../../shared/model/operation.ts";
import { dayWordsWithYear } from "../kit/dayWords.ts";
import { Empty, Shown } from "../kit/states.tsx";
import { Tabs } from "../kit/Tabs.tsx";
import { useDocument } from "../kit/thing/useDocument.ts";
import { WithOperation } from "../kit/WithOperation.tsx";
import { addressOf } from "../place.ts";
import type { RoomProps } from "../rooms.ts";
import { weatherWords as words } from "../strings/weather.ts";
import { ForecastDrop } from "./ForecastDrop.tsx";
import { HourTable } from "./HourTable.tsx";
import { stationHours, stationsOf, windLimits } from "./stationHours.ts";
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
    <>
      <Shown asked={asked}>{({ document }) => <Station operation={document} wanted={station} />}</Shown>
      {mayChange && (
        <section>
          <h2>{words.takeIn}</h2>
          <p>{words.takeInText}</p>
          <ForecastDrop
            operationId={operationId}
            onTaken={() => {
              asked.again();
              onTaken();
            }}
          />
        </section>
      )}
    </>
  );
}

function Station({ operation, wanted }: { readonly operation: Operation; readonly wanted: string | undefined }) {
  const stations = useMemo(() => stationsOf(operation), [operation]);
  const station = stations.find((one) => one === wanted) ?? stations[0];
  const hours = useMemo(() => (station === undefined ? [] : stationHours(operation, station)), [operation, station]);
  const limits = useMemo(() => windLimits(operation), [operation]);
  if (station === undefined) return <Empty>{words.none}</Empty>;
  const { forecastIssued, timeZone } = operation.settings;
  return (
    <section>
      <h1>{words.hours(station)}</h1>
      <p>
        {forecastIssued === undefined ? words.issuedAtStart : words.issued(dayWordsWithYear(forecastIssued))}{" "}
        {words.nearest}
      </p>
      {stations.length > 1 && (
        <Tabs
          name={words.station}
          present={station}
          parts={stations.map((one) => ({ key: one, title: one, address: addressOf("weather", one) }))}
        />
      )}
      <WeatherCharts hours={hours} limits={limits} station={station} timeZone={timeZone} />
      <HourTable key={station} hours={hours} station={station} />
    </section>
  );
}
