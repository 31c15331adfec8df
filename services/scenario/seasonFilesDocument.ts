import { z } from "zod";
import { weatherStepSchema } from "../../shared/model/weather.ts";
import { seasonDocumentSchema } from "../../shared/season/seasonDocument.ts";
import { type Node, tables } from "./document.ts";
import { jsonSchema } from "./otherSolversDocument.ts";

export function seasonJsonSchema(): string {
  return jsonSchema(
    "Season",
    "What work a season is expected to bring, and how its weather is drawn",
    seasonDocumentSchema,
  );
}

const intro = `# A season

A what-if case can be run over many weeks of a season instead of one. Two files say what they are drawn from: a history of measured weather and the season itself.
\`cases/history.csv\` and \`cases/season.json\` are those of \`demo\`; both are invented, the weather by \`services/scenario/generate/demo/history.ts\` from a fixed seed:
two growing seasons, April to September, hour by hour at two stations. \`season-schema.json\` beside this file is the JSON Schema (draft 2020-12) of SEASON.json.

How a week is made:

- **Which week.** Weeks begin on the operation's own day of the week and end within the season. As many samples as there are weeks take each week once, fewer are spread
  evenly over the season, and more begin again.
- **What moves.** The operation is moved there by whole weeks with all its dates: orders, harvest, bloom, closures, entries, past applications, shifts, aircraft out of service,
  and when the forecast was issued. Local times of day stay as they are. A time that the clocks of the new date skip becomes the first that they show afterwards; what then
  lasts no minute is left out. Locks are dropped.
- **Orders.** The operation's own orders are what can be drawn: a number by the Poisson distribution whose mean is the season's demand for the days of the week, without repeats, and of
  orders on one field with a product in common only one. A demand that is higher than what can be drawn in all is refused; where chance asks for more, all are taken and it is told. More work
  is a higher demand; more orders in the operation, as a case may add, only widen the choice.
- **Weather.** The stationary bootstrap on whole local days (Politis & Romano 1994): runs of days that followed each other, of geometric length, each day from a window about its
  date in any year. All stations are taken of the same day, and the hours of a day stay together at their time of day. A run also ends where the history does. Days before the week and after it
  that limits look at (rain that is still wet, inversions, rainfast) are drawn with it.
- **Where the clocks change.** Such days are not drawn from the history. On such a date, what was measured in the hour that is skipped is left out, and the hour that is shown twice has the same
  weather twice.
- **Chance.** The same seed makes the same week. Weather and orders take their chance apart from fleet, costs and limits: cases with the same seeds meet the same weather and, of the same
  orders, the same ones; a higher demand keeps the orders of a lower one.

What it leaves out: a week is planned as if its forecast were what then comes; crops are at the same stage relative to every week; what is not done in one week is not carried to the next;
and no week is worse than days that the history holds, put together.

This file is generated from the schemas: change their descriptions and run \`npx tsx services/scenario/writeDocuments.ts\`.
`;

const historyWords = `## HISTORY.csv

Measured weather of months or years, one step of one station a row, in the columns of \`weather.csv\` ([README.md](README.md)). Stations stand where they could serve the operation's fields.
Measured rain has a probability of 100, none of 0. A step that reaches over local midnight is cut there, its rain shared out by minutes. Only local days of which every station
tells every minute are drawn; gaps are told and never filled.

Columns that must be there: ${requiredColumns().join(", ")}.
`;

function requiredColumns(): string[] {
  return (z.toJSONSchema(weatherStepSchema, { io: "input" }).required ?? []).map((name) => `\`${name}\``);
}

/** How weeks of a season are made, and every property of what they are made from. */
export function seasonFilesDocument(): string {
  const root = z.toJSONSchema(seasonDocumentSchema, { io: "input" }) as Node;
  return [intro, "## SEASON.json", "", tables("", "", root).join("\n"), historyWords].join("\n");
}
