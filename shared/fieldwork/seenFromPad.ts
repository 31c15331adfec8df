import type { PointXY } from "../geo/plane.ts";
import type { Beside } from "./cycle.ts";
import type { Leg } from "./path.ts";
import {
  createPadPath,
  type FlownPath,
  farthestM,
  nearestM,
  type PadPath,
  type SortieSums,
  type SortieTimes,
} from "./sorties.ts";

/** The work as it is seen from one pad. */
export interface PadGround {
  readonly farthestM: number;
  /** Kept once found. */
  readonly beside: Beside;
  /** What there is of ways and turns, when the block is shared out evenly over so many loads. */
  sums(loads: number): SortieSums;
  /** All pieces in the order and direction flown from this pad. */
  legs(loads: number): readonly Leg[];
}

/** The work from one pad, along whichever of the paths takes the shortest ways for so many loads. What loads are asked for is kept: many outfits ask for the same. */
export class SeenFromPad implements PadGround, Beside {
  readonly farthestM: number;
  readonly #paths: readonly PadPath[];
  readonly #times: SortieTimes;
  readonly #legsOf: (path: number) => readonly Leg[];
  readonly #turns: number;
  /** Of the shortest sortie. */
  readonly #leastS: number;
  readonly #sumS = new Map<number, number>();
  readonly #eachS = new Map<number, readonly number[]>();

  constructor(pad: PointXY, paths: readonly FlownPath[], times: SortieTimes, legsOf: (path: number) => readonly Leg[]) {
    this.farthestM = farthestM(paths[0]!, pad);
    this.#paths = paths.map((path) => createPadPath(path, pad));
    this.#times = times;
    this.#legsOf = legsOf;
    this.#turns = paths[0]!.turnsTo.at(-1)!;
    this.#leastS = (2 * nearestM(paths[0]!, pad)) / times.ferrySpeedMps + times.takeoffLandingS;
  }

  get beside(): Beside {
    return this;
  }

  /** Of the first of the paths with the shortest ways. */
  sums(loads: number): SortieSums {
    let best = this.#paths[0]!.sums(loads);
    for (let path = 1; path < this.#paths.length; path++) {
      const sums = this.#paths[path]!.sums(loads);
      if (sums.ferryM < best.ferryM) best = sums;
    }
    return best;
  }

  legs(loads: number): readonly Leg[] {
    const path = this.#bestPath(loads);
    const legs = this.#legsOf(this.#paths.indexOf(path));
    return path.isBackwards(loads) ? backwards(legs) : legs;
  }

  sumS(loads: number): number {
    const known = this.#sumS.get(loads);
    if (known !== undefined) return known;
    const { ferryM, turns, hopM } = this.sums(loads);
    const { takeoffLandingS, ferrySpeedMps, turnS } = this.#times;
    const found = loads * takeoffLandingS + (ferryM + hopM) / ferrySpeedMps + turns * turnS;
    this.#sumS.set(loads, found);
    return found;
  }

  /** A sortie more saves at most one turn. */
  leastSumS(loads: number): number {
    const { turnS } = this.#times;
    return this.#leastS < turnS
      ? Math.max(loads, this.#turns + 1) * this.#leastS
      : loads * this.#leastS + Math.max(0, this.#turns - (loads - 1)) * turnS;
  }

  eachS(loads: number): readonly number[] {
    const known = this.#eachS.get(loads);
    if (known !== undefined) return known;
    const found = this.#bestPath(loads).besideS(loads, this.#times);
    this.#eachS.set(loads, found);
    return found;
  }

  #bestPath(loads: number): PadPath {
    const { ferryM } = this.sums(loads);
    return this.#paths.find((path) => path.sums(loads).ferryM === ferryM)!;
  }
}

/** The way to a piece is then the way from it to the one after. */
function backwards(legs: readonly Leg[]): Leg[] {
  return legs
    .map((leg, index): Leg => {
      const after = legs[index + 1];
      return { ...leg, from: leg.to, to: leg.from, turns: after?.turns ?? 0, hopM: after?.hopM ?? 0 };
    })
    .toReversed();
}
