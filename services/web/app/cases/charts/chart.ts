/** Inks of the looks (look/tokens.css) that stand out from the ground. */
export type Ink = "ink" | "quiet" | "liquidSign" | "granularSign" | "bad";

/** Told apart by dashes and signs, too: colours alone say nothing. */
export interface Line {
  readonly name: string;
  readonly ys: readonly (number | null)[];
  readonly stroke: "solid" | "dashed" | "dotted" | "none";
  readonly sign: "disc" | "square" | "dash" | "none";
  readonly ink: Ink;
}

/** From a low to a high figure at each place: as an area along the line, or as a thin or thick upright at each. */
export interface Spread {
  readonly name: string;
  readonly lows: readonly (number | null)[];
  readonly highs: readonly (number | null)[];
  readonly as: "area" | "thin" | "thick";
  readonly ink: Ink;
}

export interface Chart {
  readonly title: string;
  readonly xTitle: string;
  readonly yTitle: string;
  readonly xs: readonly number[];
  /** What stands under each x; left out: the number itself. */
  readonly xNames?: readonly string[];
  readonly spreads: readonly Spread[];
  readonly lines: readonly Line[];
  /** An upright with words, as at the number that there is now. */
  readonly marks: readonly { readonly x: number; readonly words: string }[];
  /** The picture begins at zero, as areas and hours do. */
  readonly fromZero: boolean;
}

/** Room about the figures so that nothing is drawn on the frame: [least, most]. */
export function rangeOf({ fromZero, lines, marks, spreads, xs }: Chart): {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
} {
  const ys = [...lines.map((line) => line.ys), ...spreads.flatMap(({ highs, lows }) => [lows, highs])]
    .flat()
    .filter((value) => value !== null);
  const all = fromZero ? [0, ...ys] : ys;
  const [low, high] = all.length === 0 ? [0, 1] : [Math.min(...all), Math.max(...all)];
  const room = (high - low || Math.abs(high) || 1) * 0.08;
  const places = [...xs, ...marks.map(({ x }) => x)];
  return {
    x: [Math.min(...places) - 0.5, Math.max(...places) + 0.5],
    y: [fromZero && low === 0 ? 0 : low - room, high + room],
  };
}

/** "12k", "1.2M": what stands at an axis is short. */
export function shortNumber(value: number): string {
  const size = Math.abs(value);
  const sign = value < 0 ? "−" : "";
  const short = (amount: number, end: string) => `${sign}${Number(amount.toFixed(1))}${end}`;
  if (size >= 1e6) return short(size / 1e6, "M");
  return size >= 1e4 ? short(size / 1e3, "k") : short(size, "");
}
