import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { type Agronomy, createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { intervalAt } from "../../shared/agronomy/intervals.ts";
import { type Calendar, createCalendar, minutesPerHour } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { seededRandom } from "../support/seededRandom.ts";
import { median } from "./measure.ts";

const days = 7;
const runs = 5;
const ordersPerCrew = 40;
const judgedMinutes = 20_000;
const night = { night: false };

/**
 * How fast the windows of a generated week are found, from nothing, for every order and kind of aircraft. First random minutes are held
 * against judge, which reads the rules minute by minute; false when one differs.
 */
export function benchWindows(orders: number): boolean {
  const operation = generateOperation({
    orders,
    crews: Math.max(1, Math.round(orders / ordersPerCrew)),
    days,
    seed: 1,
  });
  const calendar = createCalendar(operation.settings);
  const types = operation.fleet.aircraftTypes;
  const hours = Math.ceil(calendar.horizonMin / minutesPerHour);
  console.log(`${orders} orders x ${types.length} kinds of aircraft x ${hours} hours, generated`);

  const wrong = countWrong(operation, calendar, createAgronomy(operation, calendar));
  console.log(`${judgedMinutes} random minutes against judge: ${wrong} differ`);

  const results = orders * types.length * hours;
  time(
    "windows",
    results,
    (agronomy) => forAll(operation, (order, type) => agronomy.windows(order, type, night)),
    operation,
    calendar,
  );
  time(
    "records of every step",
    results,
    (agronomy) => forAll(operation, (order, type) => agronomy.record(order, type, night)),
    operation,
    calendar,
  );
  console.log(`peak memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB, the generated operation included`);
  return wrong === 0;
}

type Visit = (order: Operation["orders"][number], type: Operation["fleet"]["aircraftTypes"][number]) => unknown;

function forAll(operation: Operation, visit: Visit): void {
  for (const order of operation.orders) for (const type of operation.fleet.aircraftTypes) visit(order, type);
}

function countWrong({ orders, fleet }: Operation, calendar: Calendar, agronomy: Agronomy): number {
  const random = seededRandom(1);
  const pick = <Item>(items: readonly Item[]) => items[Math.floor(random() * items.length)]!;
  let wrong = 0;
  for (let i = 0; i < judgedMinutes; i++) {
    const [order, type] = [pick(orders), pick(fleet.aircraftTypes)];
    const { windows } = agronomy.windows(order, type, night);
    // Half of the minutes lie beside an edge, where mistakes live.
    const edge = i % 2 === 0 || windows.length === 0 ? undefined : pick(windows);
    const anywhere = Math.floor(random() * calendar.horizonMin);
    const min = edge === undefined ? anywhere : pick([edge.startMin - 1, edge.startMin, edge.endMin - 1, edge.endMin]);
    if (min < 0 || min >= calendar.horizonMin) continue;
    const isOpen = agronomy.judge(order, type, min, night).length === 0;
    if (isOpen !== (intervalAt(windows, min) !== undefined)) wrong++;
  }
  return wrong;
}

/** The median of several runs, each with an agronomy that remembers nothing. */
function time(
  name: string,
  results: number,
  find: (agronomy: Agronomy) => void,
  operation: Operation,
  calendar: Calendar,
): void {
  const measured = Array.from({ length: runs }, () => {
    const [startMs, startCpu] = [performance.now(), process.cpuUsage()];
    find(createAgronomy(operation, calendar));
    const { user, system } = process.cpuUsage(startCpu);
    return { wallMs: performance.now() - startMs, cpuMs: (user + system) / 1000 };
  });
  const wallMs = median(measured.map((run) => run.wallMs));
  // On a busy machine the processor's own time tells more than the clock.
  const cpuMs = median(measured.map((run) => run.cpuMs));
  console.log(
    `${name}: ${wallMs.toFixed(0)} ms by the clock, ${cpuMs.toFixed(0)} ms of the processor, medians of ${runs}; ${(results / wallMs / 1000).toFixed(2)} million orders x hours x kinds per second`,
  );
}
