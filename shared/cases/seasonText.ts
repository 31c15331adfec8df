import { textTable, wrapped } from "../plan/textTable.ts";
import { counted } from "../plan/words.ts";
import type { Comparison } from "./comparison.ts";

const hoursPerSign = 2;

/** What weeks of a season hold: hectares by quantiles, how often all is done, calm hours by month. Nothing of a single week. */
export function seasonText({ base, cases, calmHours }: Comparison): string[] {
  if (base.season === null) return [];
  const rows = [base, ...cases].map(({ season, name }, at) => {
    if (season === null) return [String(at), "-", "-", "-", "-", "-", "-", "-", name];
    const { q10, q25, q50, q75, q90 } = season.servedHa;
    const percent = (frac: number) => `${(100 * frac).toFixed(0)} %`;
    const quantiles = [q10, q25, q50, q75, q90].map((hectares) => hectares.toFixed(0));
    return [String(at), ...quantiles, percent(season.allDoneFrac), percent(season.hoursSufficeFrac), name];
  });
  const head = ["", "10 %", "25 %", "half", "75 %", "90 %", "all done", "enough hours", ""];
  const right = head.map((_, at) => at).slice(0, -1);
  return [
    "",
    "Hectares of a week: so many of the weeks have at most so many",
    ...wrapped(
      "all done: share of the weeks in which every order is done; enough hours: in which nothing is left out for want of hours, so that all is done that crews and aircraft may do by labels, dates and weather",
      0,
    ),
    ...textTable([head, ...rows], { indent: 0, right }),
    "",
    ...wrapped(
      "Spray hours of a week by month: in which an order is open by day for some aircraft, on average over orders",
      0,
    ),
    ...textTable(
      calmHours.map(({ month, weeks, hoursPerWeek }) => [
        month,
        counted(weeks, "week", "weeks"),
        `${hoursPerWeek.toFixed(1)} h`,
        "#".repeat(Math.round(hoursPerWeek / hoursPerSign)),
      ]),
      { indent: 0, right: [1, 2] },
    ),
  ];
}
