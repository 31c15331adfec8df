import { deltaTC, wetBulbC } from "../../../shared/agronomy/air.ts";
import { type DeltaTBand, deltaTBandOf, deltaTBandsC } from "../../../shared/agronomy/deltaTBand.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";

const paPerHpa = 100;
const mostDecimals = 9;
const { preferredFrom, preferredTo, avoidAbove } = deltaTBandsC;
const bandWords: Record<DeltaTBand, string> = {
  cautionLow: `caution: under ${preferredFrom} °C droplets live long and drift far, and an inversion is likely`,
  preferred: `preferred: from ${preferredFrom} to ${preferredTo} °C`,
  cautionHigh: `caution: above ${preferredTo} °C droplets dry up quickly`,
  avoid: `avoid: above ${avoidAbove} °C`,
};
const method = "psychrometric, ASHRAE Handbook Fundamentals (2017), chapter 1";
const bandSource = "Bureau of Meteorology guidance, as extension texts quote it; the label may ask for less or more";

export interface DeltaTOptions {
  readonly temp: number;
  readonly humidity: number;
  readonly pressure: number;
  readonly json?: boolean;
}

export async function deltaTVerb({ temp, humidity, pressure, json }: DeltaTOptions): Promise<number> {
  const answer = {
    temperatureC: temp,
    humidityPct: humidity,
    pressureHpa: pressure,
    wetBulbC: wetBulbC(temp, humidity, pressure * paPerHpa),
    deltaTC: deltaTC(temp, humidity, pressure * paPerHpa),
  };
  const band = deltaTBandOf(answer.deltaTC);
  if (json) {
    printJson({ ...answer, band, advice: bandWords[band], method, bandSource });
    return exitCodes.good;
  }
  const rows = [
    ["dry bulb", `${temp.toFixed(2)} °C`, `at ${humidity} % humidity and ${pressure} hPa`],
    ["wet bulb", `${answer.wetBulbC.toFixed(2)} °C`, method],
    ["Delta T", `${figureInBand(answer.deltaTC)} °C`, bandWords[band]],
  ];
  for (const line of textTable(rows, { indent: 0, right: [1] })) print(line);
  print(`Bands: ${bandSource}.`);
  return exitCodes.good;
}

/** With as many decimals as show on which side of a band's edge the figure lies. */
function figureInBand(deltaTC: number): string {
  for (let decimals = 2; decimals <= mostDecimals; decimals++) {
    const figure = deltaTC.toFixed(decimals);
    if (deltaTBandOf(Number(figure)) === deltaTBandOf(deltaTC)) return figure;
  }
  return String(deltaTC);
}
