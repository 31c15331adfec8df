import { useMemo } from "react";
import { compassWords } from "../../../../shared/geo/compass.ts";
import { type Column, DataTable } from "../kit/DataTable.tsx";
import { shortDayWords } from "../kit/dates.ts";
import { quantityOf, shownNumber } from "../kit/form/quantities.ts";
import { weatherWords as words } from "../strings/weather.ts";
import { useUnitSystem, useUnits } from "../units/units.ts";
import { closingOf, type Span, type StationHour, type WindLimits } from "./stationHours.ts";

const keyOf = ({ startS }: StationHour) => String(startS);

/** The same hours in numbers, and what closes those that are not calm. */
export function HourTable({
  flying,
  hours,
  limits,
  station,
}: {
  readonly hours: readonly StationHour[];
  readonly limits: WindLimits;
  readonly flying: readonly Span[];
  readonly station: string;
}) {
  const units = useUnits();
  const system = useUnitSystem();
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
    // To the tenth: a wind of 2.6 is below a limit of 3.
    const exactWind = (kph: number) => {
      const quantity = quantityOf("windKph", { system, currency: "", rateUnit: "L" })!;
      return `${Number(Number(shownNumber(kph, quantity)).toFixed(1))} ${quantity.unit}`;
    };
    const verdict = (hour: StationHour) => {
      const closing = closingOf(hour, limits);
      if (closing === null) return words.calmHour;
      if (closing === "rain") return words.rainHour(units.rainMm(hour.step.rainMm));
      if (closing === "windLow") return words.below(exactWind(hour.step.windKph), exactWind(limits.windMinKph!));
      if (closing === "wind") return words.above(exactWind(hour.step.windKph), exactWind(limits.windMaxKph!));
      return words.gustsAbove(exactWind(hour.step.gustKph), exactWind(limits.gustMaxKph!));
    };
    const isNight = ({ startS, step }: StationHour) =>
      !flying.some(({ fromS, toS }) => fromS < startS + step.stepMin * 60 && toS > startS);
    const share = (value: number) => `${value} %`;
    return [
      {
        key: "time",
        title: words.time,
        show: ({ clock, date }) => shortDayWords(`${date}T${clock}`),
        by: ({ startS }) => startS,
      },
      {
        key: "calm",
        title: words.isCalm,
        show: (hour) => (
          <span className={closingOf(hour, limits) === null && !isNight(hour) ? "calmMark" : undefined}>
            {isNight(hour) ? words.atNight(verdict(hour)) : verdict(hour)}
          </span>
        ),
        by: (hour) => verdict(hour),
      },
      number("wind", words.windMean, ({ step }) => step.windKph, units.windKph),
      number("gust", words.gust, ({ step }) => step.gustKph, units.windKph),
      {
        key: "from",
        title: words.direction,
        show: ({ step }) => compassWords(step.windFromDeg),
        by: ({ step }) => step.windFromDeg,
        isShort: true,
      },
      number("temperature", words.temperature, ({ step }) => step.temperatureC, units.temperatureC),
      number("humidity", words.humidity, ({ step }) => step.humidityPct, share),
      number("deltaT", words.deltaT, (hour) => hour.deltaTC, units.deltaC),
      number("rain", words.rainAmount, ({ step }) => step.rainMm, units.rainMm),
      number("probability", words.rainProbability, ({ step }) => step.rainProbabilityPct, share),
      number("cloud", words.cloud, ({ step }) => step.cloudPct, share),
    ];
  }, [units, system, limits, flying]);
  return (
    <DataTable
      name={`weather ${station}`}
      caption={words.hours(station)}
      rows={hours}
      keyOf={keyOf}
      columns={columns}
    />
  );
}
