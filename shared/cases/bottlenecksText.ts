import { textTable, wrapped } from "../plan/textTable.ts";
import { hectares, moneyWords } from "../plan/words.ts";
import type { BottleneckRow } from "./bottlenecks.ts";

export interface BottleneckNotes {
  readonly currency: string;
  readonly method: "routes" | "fluid";
  readonly boundCents: number | null;
  readonly leavesOut: string | null;
  readonly seeds: number;
  readonly iterations: number;
}

/** Units that would bring less than this are left out of the table. */
const leastCents = 100;

/** What one more of each thing would bring, predicted beside realised, for a terminal. */
export function bottlenecksText(rows: readonly BottleneckRow[], notes: BottleneckNotes): string[] {
  const { currency, method, boundCents, leavesOut, seeds, iterations } = notes;
  const told = rows.filter(({ atMostCents, realised }) => atMostCents >= leastCents || realised !== null);
  const basis =
    method === "routes"
      ? "by the linear relaxation over crew-days"
      : "by the linear relaxation as in a fluid, which knows no hours of a crew's day";
  return [
    `What one more would bring, ${currency}, ${basis}`,
    ...(leavesOut === null ? [] : wrapped(`As if there were no ${leavesOut}: the relaxation does not know them.`, 0)),
    ...(boundCents === null ? [] : [`No plan for the week as it is can cost less than ${moneyWords(boundCents)}.`]),
    "",
    ...(told.length === 0
      ? ["Nothing is short: one more of any thing would bring nothing."]
      : textTable([heads, ...told.map(cells)], { indent: 0, right: [0, 1, 2, 3, 4] })),
    "",
    ...wrapped(
      "At most: by today's prices of what is short. About: with prices that fall as it comes; ha: that money in hectares of what is left out for want of hours or things. Both let crew-days be shared out in fractions and know no waiting for batteries, so that what is realised is usually less.",
      0,
    ),
    ...wrapped(
      `Realised: cost saved when planned again with it, mean of ${seeds} searches of ${iterations} iterations from the plan, beside the same searches without, give or take half of the 95 % interval; error: about less realised. A difference smaller than the spread of those searches is called no clear difference.`,
      0,
    ),
    ...(told.some(({ onlyToKnow }) => onlyToKnow)
      ? wrapped("(only to know): weather or a limit of duty, nothing that anybody may change.", 0)
      : []),
  ];
}

const heads = ["at most", "about", "ha", "realised", "error", "one more"];

function cells({ atMostCents, aboutCents, aboutHa, realised, words, onlyToKnow, failed }: BottleneckRow): string[] {
  const remark =
    failed === null
      ? realised !== null && !realised.isClear
        ? ": no clear difference"
        : ""
      : `: not tried, ${failed}`;
  return [
    moneyWords(atMostCents),
    aboutCents === null ? "" : moneyWords(aboutCents),
    aboutHa === null ? "" : hectares(aboutHa),
    realised === null ? "" : realisedWords(realised),
    realised === null || aboutCents === null ? "" : moneyWords(aboutCents - realised.cents.mean),
    `${words}${onlyToKnow ? " (only to know)" : ""}${remark}`,
  ];
}

function realisedWords({ cents: { mean, interval95 } }: NonNullable<BottleneckRow["realised"]>): string {
  return interval95 === null
    ? moneyWords(mean)
    : `${moneyWords(mean)} ± ${moneyWords((interval95[1] - interval95[0]) / 2)}`;
}
