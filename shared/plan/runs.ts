import type { LocalTime } from "./localTime.ts";

/** What runs are made of: stops of one crew-day in the order in which they are worked. */
export interface RunItem {
  readonly orderId: string;
  readonly part: number;
  readonly parts: number;
  /** Which aircraft of the outfit, in words; nothing where all of it works. */
  readonly aircraft: string;
  readonly start: LocalTime;
  readonly end: LocalTime;
}

/** Parts of one order worked one after the other by the same aircraft without a break: one thing to whoever reads the day. */
export type Run<Item> = readonly [first: Item, ...rest: Item[]];

export function runsOf<Item extends RunItem>(stops: readonly Item[]): Run<Item>[] {
  const runs: [Item, ...Item[]][] = [];
  for (const stop of stops) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const isSame = last?.orderId === stop.orderId && last.aircraft === stop.aircraft;
    if (run && isSame && last.end.min === stop.start.min) run.push(stop);
    else runs.push([stop]);
  }
  return runs;
}

export function endOf<Item extends RunItem>(run: Run<Item>): LocalTime {
  return run.at(-1)!.end;
}

/** `Stop 3`, or `Stops 3 to 5`. */
export function stopsWords(first: number, count: number): string {
  return count === 1 ? `Stop ${first}` : `Stops ${first} to ${first + count - 1}`;
}

/** ` part 2 of 3`, ` parts 1-3, 5 of 8`, ` all 3 parts`, ` both parts`; nothing when the order is done in one. */
export function partWords(stops: readonly Pick<RunItem, "part" | "parts">[]): string {
  const { parts } = stops[0]!;
  if (parts === 1) return "";
  if (stops.length === parts) return parts === 2 ? " both parts" : ` all ${parts} parts`;
  const numbers = stops.map(({ part }) => part).sort((a, b) => a - b);
  const spans: [from: number, to: number][] = [];
  for (const number of numbers) {
    const span = spans.at(-1);
    if (span && span[1] === number - 1) span[1] = number;
    else spans.push([number, number]);
  }
  const words = spans.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(", ");
  return ` ${stops.length === 1 ? "part" : "parts"} ${words} of ${parts}`;
}
