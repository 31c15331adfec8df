import { type MinuteLimit, minuteLimits } from "../../../shared/agronomy/limits.ts";
import { minutesPerHour } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Order } from "../../../shared/model/order.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { casesOf, nightLines, type Question } from "./question.ts";

/** Minutes lost and left, summed over parts of orders and aircraft types that may work them at all. */
interface Lost {
  readonly pairs: number;
  /** Pairs of part and type that a limit stops at every minute; none of their minutes are counted. */
  readonly neverPairs: number;
  readonly allMin: number;
  readonly openMin: number;
  /** Greatest first. A minute that several limits stop counts for each. */
  readonly byLimit: readonly { readonly limit: MinuteLimit; readonly lostMin: number }[];
}

export function tellLost(question: Question, orders: readonly Order[]): number {
  const { countedTypes, ...lost } = lostOf(question, orders);
  if (question.json) {
    printJson(lost);
    return exitCodes.good;
  }
  const row = (name: string, min: number) => [
    name,
    (min / minutesPerHour).toFixed(1),
    lost.allMin === 0 ? "-" : ((100 * min) / lost.allMin).toFixed(1),
  ];
  print(`Hours lost by limit, summed over ${lost.pairs} pairs of order and aircraft type,`);
  print("the parts of an order that wait for different winds counted by themselves");
  print(
    `(${lost.neverPairs} more pairs are never possible and not counted; an hour that several limits stop counts for each)`,
  );
  for (const line of nightLines(question, countedTypes)) print(line);
  const rows = [
    ["limit", "hours", "%"],
    ...lost.byLimit.map(({ limit, lostMin }) => row(limit, lostMin)),
    row("open", lost.openMin),
    row("all", lost.allMin),
  ];
  for (const line of textTable(rows, { indent: 0, right: [1, 2] })) print(line);
  return exitCodes.good;
}

function lostOf(question: Question, orders: readonly Order[]): Lost & { countedTypes: readonly AircraftType[] } {
  const { agronomy, calendar } = question;
  const lostMin = new Map<MinuteLimit, number>(minuteLimits.map((limit) => [limit, 0]));
  const counted = new Set<AircraftType>();
  let [pairs, neverPairs, openMin] = [0, 0, 0];
  for (const order of orders) {
    for (const { type, night, limits } of casesOf(question, order)) {
      if (limits.length > 0) {
        neverPairs++;
        continue;
      }
      pairs++;
      counted.add(type);
      const { windows, lostMin: lost } = agronomy.windows(order, type, night);
      for (const { startMin, endMin } of windows) openMin += endMin - startMin;
      for (const limit of minuteLimits) lostMin.set(limit, lostMin.get(limit)! + (lost[limit] ?? 0));
    }
  }
  const byLimit = [...lostMin]
    .map(([limit, min]) => ({ limit, lostMin: min }))
    .filter((row) => row.lostMin > 0)
    .sort((a, b) => b.lostMin - a.lostMin);
  return {
    pairs,
    neverPairs,
    allMin: pairs * calendar.horizonMin,
    openMin,
    byLimit,
    countedTypes: question.types.filter((type) => counted.has(type)),
  };
}
