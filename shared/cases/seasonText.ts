import { textTable } from "../plan/textTable.ts";
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
    return [String(at), ...quantiles, percent(season.allDoneFrac), percent(season.nothingLeftFrac), name];
  });
  const head = ["", "10 %", "25 %", "half", "75 %", "90 %", "all done", "all that could be", ""];
  const right = head.map((_, at) => at).slice(0, -1);
  return [
    "",
    "Hectares of a week: so many of the weeks have at most so many",
    "all done: share of the weeks in which every order is done; all that could be: in which nothing is left",
    "that more or other crews, aircraft or equipment could have done within labels, dates and weather",
    ...textTable([head, ...rows], { indent: 0, right }),
    "",
    "Calm hours a week, in which some order is open for some aircraft, by month",
    ...textTable(
      calmHours.map(({ month, weeks, hoursPerWeek }) => [
        month,
        `${weeks} weeks`,
        `${hoursPerWeek.toFixed(1)} h`,
        "#".repeat(Math.round(hoursPerWeek / hoursPerSign)),
      ]),
      { indent: 0, right: [1, 2] },
    ),
  ];
}
