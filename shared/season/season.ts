import { addDays, daysBetween } from "../model/calendar.ts";
import type { Fault } from "../model/faults.ts";
import type { Operation } from "../model/operation.ts";
import { daysAbout } from "./bootstrap.ts";
import { greatestDraw } from "./drawOrders.ts";
import type { History } from "./history.ts";
import { leadAndLag } from "./leadAndLag.ts";
import type { SeasonDocument } from "./seasonDocument.ts";
import { seasonWeeks } from "./seasonWeeks.ts";

/** What weeks are sampled from, beside an operation. */
export interface Season {
  readonly document: SeasonDocument;
  readonly history: History;
}

/** What of a season does not fit itself or the operation; paths are within the season's document. */
export function seasonFaults({ document, history }: Season, operation: Operation): Fault[] {
  const spans = spanFaults(document);
  if (spans.length > 0) return spans;
  return [...demandFaults(document, operation), ...historyFaults(document, history, operation)];
}

function spanFaults({ demand }: SeasonDocument): Fault[] {
  return demand.flatMap(({ from, to, ordersPerWeek, areaHaPerWeek }, at): Fault[] => {
    const faults: Fault[] = [];
    const before = demand[at - 1];
    if (from > to) faults.push({ path: ["demand", at, "from"], value: from, expected: `a day not after ${to}` });
    if (before !== undefined && from <= before.to) {
      faults.push({
        path: ["demand", at, "from"],
        value: from,
        expected: `a day after ${before.to}, where the span before ends`,
      });
    }
    if ((ordersPerWeek === undefined) === (areaHaPerWeek === undefined)) {
      const value = ordersPerWeek === undefined ? undefined : "both";
      faults.push({ path: ["demand", at], value, expected: "either ordersPerWeek or areaHaPerWeek" });
    }
    return faults;
  });
}

function demandFaults(document: SeasonDocument, operation: Operation): Fault[] {
  const weeks = seasonWeeks(document, operation);
  const { firstDay, days } = operation.settings;
  if (weeks.length === 0) {
    const expected = `spans that hold at least one run of ${days} days from the weekday of ${firstDay}`;
    return [{ path: ["demand"], value: document.demand.length, expected }];
  }
  const most = greatestDraw(operation.orders, document.mandatory);
  const worst = weeks.reduce((a, b) => (b.expectedOrders > a.expectedOrders ? b : a));
  if (worst.expectedOrders <= most) return [];
  const at = document.demand.findIndex(({ from, to }) => from <= worst.firstDay && worst.firstDay <= to);
  const value = Number(worst.expectedOrders.toFixed(1));
  const expected = `at most ${most} orders in the week of ${worst.firstDay}: no more can be drawn from the operation's ${operation.orders.length}`;
  return [{ path: at < 0 ? ["demand"] : ["demand", at], value, expected }];
}

function historyFaults(document: SeasonDocument, history: History, operation: Operation): Fault[] {
  const { windowDays } = document.weather;
  const { leadDays, lagDays } = leadAndLag(operation);
  const about = daysAbout(history, windowDays);
  const weeks = seasonWeeks(document, operation);
  if (weeks.length === 0) return [];
  const from = addDays(weeks[0]!.firstDay, -leadDays);
  const to = addDays(weeks[weeks.length - 1]!.firstDay, operation.settings.days + lagDays);
  const dates = Array.from({ length: daysBetween(from, to) }, (_, at) => addDays(from, at));
  const bare = dates.filter((date) => about(date).length === 0);
  if (bare.length === 0) return [];
  const expected = `a history that has a whole day within ${windowDays} days of every date of the season; ${bare.length} dates have none, the first is ${bare[0]}`;
  return [{ path: ["weather", "windowDays"], value: windowDays, expected }];
}
