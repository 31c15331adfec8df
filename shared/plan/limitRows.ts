import type { SheetStop } from "./crewSheet.ts";
import { type Measures, metricMeasures } from "./measures.ts";
import { type Cells, letterOf } from "./sheetWords.ts";
import type { SetBy, SiteLimit } from "./siteLimits.ts";
import { inversionWords, readable } from "./words.ts";

export const limitsTitle = "Measure on site, stop the work outside";
export const limitHeads = ["measure", "stay within", "set by"] as const;

/** What is measured, its limits, and who set them; a least and a most of the same measure are one row. */
export function limitRows(stop: SheetStop, measures = metricMeasures): Cells[] {
  const { dropletClasses, inversion, limits, rainfastHours, windHeightM } = stop.siteLimits;
  const names = [...new Set(limits.map(({ measure }) => measure))];
  const rows = names.map((measure): Cells => {
    const ofMeasure = limits.filter((limit) => limit.measure === measure);
    const height = measure === "wind" && windHeightM !== null ? ` at ${measures.keep(windHeightM)}` : "";
    const setBy = new Set(ofMeasure.map((limit) => setByWords(stop, limit.setBy)));
    return [`${measure}${height}`, spanWords(ofMeasure, measures), [...setBy].join(", ")];
  });
  if (dropletClasses.length > 0) rows.push(["droplets", dropletClasses.join(", "), "order, label, aircraft"]);
  if (rainfastHours > 0) rows.push(["rain", `none for ${readable(rainfastHours)} h after`, "label"]);
  if (inversion !== "ignore") rows.push(["inversion", inversionWords[inversion], "label"]);
  return rows;
}

function spanWords(limits: readonly SiteLimit[], measures: Measures): string {
  const limitOf = (bound: SiteLimit["bound"]) => {
    const limit = limits.find((one) => one.bound === bound);
    return limit === undefined ? undefined : measures.limit(limit);
  };
  const [least, most] = [limitOf("least"), limitOf("most")];
  if (least === undefined) return `at most ${most}`;
  // The unit is told once.
  return most === undefined ? `at least ${least}` : `${least.slice(0, least.lastIndexOf(" "))} to ${most}`;
}

function setByWords(stop: SheetStop, setBy: SetBy): string {
  switch (setBy.kind) {
    case "label":
      return `label ${letterOf(stop, setBy.productName)}`;
    case "aircraft":
      return setBy.typeName;
    case "operation":
      return "the operation";
  }
}
