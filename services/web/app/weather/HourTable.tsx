import { useMemo } from "react";
import { compassWords } from "../../../../shared/geo/compass.ts";
import { type Column, DataTable, type TableFilter } from "../kit/DataTable.tsx";
import { dayWords } from "../kit/dayWords.ts";
import { weatherWords as words } from "../strings/weather.ts";
import { useUnits } from "../units/units.ts";
import type { StationHour } from "./stationHours.ts";

const filters: readonly TableFilter<StationHour>[] = [
  { key: "day", title: words.day, valuesOf: ({ date }) => [date], wordsOf: dayWords },
];
const keyOf = ({ startS }: StationHour) => String(startS);

/** The same hours in numbers. */
export function HourTable({ hours, station }: { readonly hours: readonly StationHour[]; readonly station: string }) {
  const units = useUnits();
  const columns = useMemo((): readonly Column<StationHour>[] => {
    const number = (
      key: string,
      title: string,
      of: (hour: StationHour) => number,
      show: (value: number) => string,
    ) => ({
      key,
      title,
      by: of,
      show: (hour: StationHour) => show(of(hour)),
      isNumber: true,
    });
    const share = (value: number) => `${value} %`;
    return [
      {
        key: "time",
        title: words.time,
        show: ({ clock, date }) => dayWords(`${date}T${clock}`),
        by: ({ startS }) => startS,
      },
      number("wind", words.windMean, ({ step }) => step.windKph, units.windKph),
      number("gust", words.gust, ({ step }) => step.gustKph, units.windKph),
      {
        key: "from",
        title: words.direction,
        show: ({ step }) => compassWords(step.windFromDeg),
        by: ({ step }) => step.windFromDeg,
      },
      number("temperature", words.temperature, ({ step }) => step.temperatureC, units.temperatureC),
      number("humidity", words.humidity, ({ step }) => step.humidityPct, share),
      number("deltaT", words.deltaT, (hour) => hour.deltaTC, units.deltaC),
      number("rain", words.rainAmount, ({ step }) => step.rainMm, units.rainMm),
      number("probability", words.rainProbability, ({ step }) => step.rainProbabilityPct, share),
      number("cloud", words.cloud, ({ step }) => step.cloudPct, share),
    ];
  }, [units]);
  return (
    <DataTable
      name={`weather ${station}`}
      caption={words.hours(station)}
      rows={hours}
      keyOf={keyOf}
      columns={columns}
      filters={filters}
    />
  );
}
