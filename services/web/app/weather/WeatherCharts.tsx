import { lazy, Suspense, useMemo } from "react";
import { deltaTBandsC } from "../../../../shared/agronomy/deltaTBand.ts";
import { quantityOf, shownNumber } from "../kit/form/quantities.ts";
import { common } from "../strings/common.ts";
import { weatherWords as words } from "../strings/weather.ts";
import { useUnitSystem } from "../units/units.ts";
import { type ChartFacts, limitOf, lineOf } from "./chartOf.ts";
import { calmSpans, type StationHour, type WindLimits } from "./stationHours.ts";

const HourChart = lazy(() => import("./HourChart.tsx"));

/** The station's hours as lines: wind against its limits, air, Delta T, rain. */
export function WeatherCharts({
  hours,
  limits,
  station,
  timeZone,
}: {
  readonly hours: readonly StationHour[];
  readonly limits: WindLimits;
  readonly station: string;
  readonly timeZone: string;
}) {
  const system = useUnitSystem();
  const charts = useMemo((): readonly (ChartFacts & { readonly note?: string })[] => {
    const quantity = (name: string) => quantityOf(name, { system, currency: "", rateUnit: "L" })!;
    const [wind, air, deltaT, rain, share] = ["windKph", "temperatureC", "deltaTMaxC", "rainMm", "humidityPct"].map(
      quantity,
    );
    const timesS = hours.map(({ startS }) => startS);
    const calm = calmSpans(hours, limits);
    const best = (celsius: number) => `${shownNumber(celsius, deltaT!)} ${deltaT!.unit}`;
    return [
      {
        title: words.wind,
        timesS,
        shaded: calm,
        units: { y: wind!.unit },
        note: words.shaded,
        lines: [
          lineOf(words.windMean, hours, ({ step }) => step.windKph, wind!, "line"),
          lineOf(words.gust, hours, ({ step }) => step.gustKph, wind!, "dashes"),
          ...limitOf(words.windLimit, hours, limits.windMaxKph, wind!),
          ...limitOf(words.windLeast, hours, limits.windMinKph, wind!),
          ...limitOf(words.gustLimit, hours, limits.gustMaxKph, wind!),
        ],
      },
      {
        title: words.air,
        timesS,
        shaded: [],
        units: { y: air!.unit, share: share!.unit },
        lines: [
          lineOf(words.temperature, hours, ({ step }) => step.temperatureC, air!, "line"),
          lineOf(words.humidity, hours, ({ step }) => step.humidityPct, share!, "dashes", "share"),
        ],
      },
      {
        title: words.deltaT,
        timesS,
        shaded: [],
        units: { y: deltaT!.unit },
        note: words.deltaTBest(best(deltaTBandsC.preferredFrom), best(deltaTBandsC.preferredTo)),
        lines: [lineOf(words.deltaT, hours, (hour) => hour.deltaTC, deltaT!, "line")],
      },
      {
        title: words.rain,
        timesS,
        shaded: [],
        units: { y: rain!.unit, share: share!.unit },
        lines: [
          lineOf(words.rainAmount, hours, ({ step }) => step.rainMm, rain!, "bars"),
          lineOf(words.rainProbability, hours, ({ step }) => step.rainProbabilityPct, share!, "dots", "share"),
        ],
      },
    ];
  }, [hours, limits, system]);
  return (
    <Suspense fallback={<p className="empty">{common.loading}</p>}>
      <div className="hourCharts">
        {charts.map((chart) => (
          <div key={chart.title}>
            <HourChart chart={chart} timeZone={timeZone} description={words.chart(chart.title, station)} />
            {chart.note && <p className="quiet">{chart.note}</p>}
          </div>
        ))}
      </div>
    </Suspense>
  );
}
