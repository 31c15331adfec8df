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
  readonly #byLoads = new Map<number, ByLoads>();

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

  sums(loads: number): SortieSums {
    return this.#known(loads).path.sums(loads);
  }

  legs(loads: number): readonly Leg[] {
    const { path } = this.#known(loads);
    const legs = this.#legsOf(this.#paths.indexOf(path));
    return path.isBackwards(loads) ? backwards(legs) : legs;
  }

  sumS(loads: number): number {
    return this.#known(loads).sumS;
  }

  /** A sortie more saves at most one turn. */
  leastSumS(loads: number): number {
    const { turnS } = this.#times;
    return this.#leastS < turnS
      ? Math.max(loads, this.#turns + 1) * this.#leastS
      : loads * this.#leastS + Math.max(0, this.#turns - (loads - 1)) * turnS;
  }

  eachS(loads: number): readonly number[] {
    const known = this.#known(loads);
    known.eachS ??= known.path.besideS(loads, this.#times);
    return known.eachS;
  }

  #known(loads: number): ByLoads {
    const known = this.#byLoads.get(loads);
    if (known !== undefined) return known;
    let path = this.#paths[0]!;
    let sums = path.sums(loads);
    for (let other = 1; other < this.#paths.length; other++) {
      const otherSums = this.#paths[other]!.sums(loads);
      if (otherSums.ferryM >= sums.ferryM) continue;
      path = this.#paths[other]!;
      sums = otherSums;
    }
    const { takeoffLandingS, ferrySpeedMps, turnS } = this.#times;
    const sumS = loads * takeoffLandingS + (sums.ferryM + sums.hopM) / ferrySpeedMps + sums.turns * turnS;
    const found = { path, sumS, eachS: undefined };
    this.#byLoads.set(loads, found);
    return found;
  }
}

/** The first of the paths with the shortest ways for so many loads, and what the sorties take beside the passes then. */
interface ByLoads {
  readonly path: PadPath;
  readonly sumS: number;
  eachS: readonly number[] | undefined;
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
