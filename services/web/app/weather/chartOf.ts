import type { Quantity } from "../kit/form/quantities.ts";
import type { Span, StationHour } from "./stationHours.ts";

export interface ChartLine {
  readonly title: string;
  /** In the unit that is shown; null: nothing. */
  readonly values: readonly (number | null)[];
  readonly sign: "line" | "dashes" | "dots" | "limit" | "bars";
  readonly scale: string;
}

export interface ChartFacts {
  readonly title: string;
  readonly timesS: readonly number[];
  readonly lines: readonly ChartLine[];
  /** By the scale of the lines: what stands at its axis. */
  readonly units: Readonly<Record<string, string>>;
  readonly shaded: readonly Span[];
}

const shown = (stored: number, { factor, offset }: Quantity) => Number((stored * factor + offset).toFixed(2));

export function lineOf(
  title: string,
  hours: readonly StationHour[],
  of: (hour: StationHour) => number,
  quantity: Quantity,
  sign: ChartLine["sign"],
  scale = "y",
): ChartLine {
  return { title, values: hours.map((hour) => shown(of(hour), quantity)), sign, scale };
}

/** A limit over all hours, named with its number, by which limits are told apart; nothing where there is none. */
export function limitOf(
  title: string,
  hours: readonly StationHour[],
  limit: number | null,
  quantity: Quantity,
): readonly ChartLine[] {
  if (limit === null) return [];
  const height = shown(limit, quantity);
  return [{ title: `${title} ${height}`, values: hours.map(() => height), sign: "limit", scale: "y" }];
}
