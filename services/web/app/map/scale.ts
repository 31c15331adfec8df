import { ftFromM, milesFromKm, radFromDeg } from "../../../../shared/units/units.ts";

/** Of the ellipsoid of WGS 84, which the flat map is drawn by as if it were a sphere (EPSG 3857); a tile's width at zoom 0. */
const equatorM = 2 * Math.PI * 6_378_137;
const worldPx = 256;

/** Our choice: from farther away there are more signs than ground, and dots do. */
export const signsFromMPerPx = 60;

export function metresPerPx(latDeg: number, zoom: number): number {
  return (equatorM * Math.cos(radFromDeg(latDeg))) / (worldPx * 2 ** zoom);
}

export interface ScaleBar {
  readonly widthPx: number;
  readonly words: string;
}

/** The longest bar of a round length, 1, 2 or 5 of a power of ten, that is not wider than allowed. */
export function scaleBar(mPerPx: number, widestPx: number, system: "metric" | "us"): ScaleBar {
  const widestM = mPerPx * widestPx;
  const isFar = system === "us" ? milesFromKm(widestM / 1000) >= 1 : widestM >= 1000;
  const perM = system === "us" ? (isFar ? milesFromKm(1 / 1000) : ftFromM(1)) : isFar ? 1 / 1000 : 1;
  const unit = system === "us" ? (isFar ? "mi" : "ft") : isFar ? "km" : "m";
  const length = roundBelow(widestM * perM);
  return { widthPx: length / perM / mPerPx, words: `${length.toLocaleString("en-GB")} ${unit}` };
}

function roundBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const round = [5, 2, 1].find((factor) => factor * power <= value * (1 + 1e-12)) ?? 1;
  return round * power;
}
