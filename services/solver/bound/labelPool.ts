/** Partial routes of one search, by number. A label that was made is not changed. */
export interface LabelPool {
  readonly size: number;
  readonly stop: Int32Array;
  readonly before: Int32Array;
  readonly endMin: Int32Array;
  /** How much later the crew could leave without being late anywhere. */
  readonly slackMin: Int32Array;
  readonly dutyMin: Float64Array;
  readonly cents: Float64Array;
  /** Blocks served, as far as the last one remembers them. */
  readonly memory: Int32Array;
  /** Triples of which an odd number of blocks was served, in two words. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** What is left in tanks and hoppers: the tanks' residue in the high half, the hoppers' in the low one. */
  readonly left: Int32Array;
  /** Taken from the tender so far. */
  readonly waterL: Float64Array;
  /** Next label of the same minute. */
  readonly beside: Int32Array;
}

export function createLabelPool(size: number): LabelPool {
  const whole = () => new Int32Array(size);
  const real = () => new Float64Array(size);
  return {
    size,
    stop: whole(),
    before: whole(),
    endMin: whole(),
    slackMin: whole(),
    dutyMin: real(),
    cents: real(),
    memory: whole(),
    low: whole(),
    high: whole(),
    left: whole(),
    waterL: real(),
    beside: whole(),
  };
}

/** Stops of a label's route, in order. */
export function stopsOf({ stop, before }: LabelPool, label: number): number[] {
  const stops: number[] = [];
  for (let at = label; at >= 0; at = before[at]!) stops.push(stop[at]!);
  return stops.reverse();
}
