import type { DayStops } from "./dayStops.ts";
import type { Moves } from "./moves.ts";
import type { Residues } from "./residues.ts";

/** One outing at given prices, as the pricing sees it. Costs are cents, minutes count from the beginning of the shift. */
export interface Task {
  readonly day: DayStops;
  readonly moves: Moves;
  readonly stopCount: number;
  /** Of the road from one stop to another, by all stops. */
  readonly roadCents: Float64Array;
  readonly dutyMaxMin: number;
  readonly wageCentsPerMin: number;
  readonly standardMin: number;
  readonly overtimeCentsPerMin: number;
  /** For going out at all: what the outing takes of the limits, at their prices. */
  readonly fixedCents: number;
  /** What serving a block brings, by block. */
  readonly prizeCents: Float64Array;
  readonly near: NearSets;
  readonly triples: TripleBits;
  readonly residues: Residues;
  /** Litres of the full tender, and the most that flows into it in a minute. */
  readonly tenderL: number;
  readonly fillLPerMin: number;
}

/** For each block the blocks that it remembers (itself among them), and the place of each block in that memory or -1. */
export interface NearSets {
  readonly size: number;
  readonly members: Int32Array;
  readonly bitOf: Int8Array;
  readonly count: number;
}

export interface FoundRoute {
  /** Stops by number in the day, in order. */
  readonly stops: readonly number[];
  readonly reducedCents: number;
  readonly dutyMin: number;
}

/** Triples that have a price, under bits of two words; by block those that it is in. */
export interface TripleBits {
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** By bit, the high word's from 32 on. */
  readonly cents: Float64Array;
}
