import { deltaTC, pressurePa } from "../agronomy/air.ts";
import { windAtHeightKph } from "../agronomy/windProfile.ts";
import type { SetBy, SiteLimits } from "../plan/siteLimits.ts";
import type { Measured } from "./applicationRecord.ts";
import type { AirMeasured } from "./workReport.ts";

/** What was measured on site beside the strictest of what label, aircraft and operation allow; what was not measured is not judged. */
export function judgeMeasured(air: AirMeasured, at: string, site: SiteLimits, altitudeM: number): Measured {
  const values = valuesOf(air, site, altitudeM);
  const limits = site.limits.flatMap(({ measure, bound, value: allowed, unit, setBy }) => {
    const measured = values[measure];
    if (measured === undefined) return [];
    const holds = bound === "most" ? measured <= allowed : measured >= allowed;
    return [{ measure, measured, bound, allowed, unit, setBy: setByWords(setBy), holds }];
  });
  return { at, air, limits };
}

function valuesOf(
  { windKph, gustKph, temperatureC, humidityPct, heightM }: AirMeasured,
  site: SiteLimits,
  altitudeM: number,
) {
  // Limits of the mean wind may hold at the height of release; a wind of which no height is told is taken as it is.
  const isElsewhere = site.windHeightM !== null && heightM !== undefined;
  return {
    wind: isElsewhere ? windAtHeightKph(windKph, heightM, site.windHeightM!) : windKph,
    gust: gustKph,
    "Delta T":
      temperatureC === undefined || humidityPct === undefined
        ? undefined
        : deltaTC(temperatureC, humidityPct, pressurePa(altitudeM)),
    temperature: temperatureC,
    humidity: humidityPct,
  };
}

function setByWords(setBy: SetBy): string {
  if (setBy.kind === "label") return `label of ${setBy.productName}`;
  return setBy.kind === "aircraft" ? setBy.typeName : "the operation";
}
