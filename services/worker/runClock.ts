/** Two whole numbers that the threads of a run share: whether it is to stop, and when it began, in nanoseconds of the process's clock. */
const stopAt = 0;
const begunAt = 1;

export function createControl(): SharedArrayBuffer {
  return new SharedArrayBuffer(2 * BigInt64Array.BYTES_PER_ELEMENT);
}

export function askToStop(control: SharedArrayBuffer): void {
  Atomics.store(new BigInt64Array(control), stopAt, 1n);
}

export interface RunClock {
  /** Since the first thread was ready. */
  seconds(): number;
  shouldStop(): boolean;
}

/** Begin the run, unless another thread has: so all of them end at the same moment, whenever each was ready. */
export function joinRun(control: SharedArrayBuffer): RunClock {
  const cells = new BigInt64Array(control);
  const nowNs = process.hrtime.bigint();
  const begunNs = Atomics.compareExchange(cells, begunAt, 0n, nowNs);
  // `performance.now()` counts from the start of each thread, so it is held against the process's clock once.
  const begunMs = performance.now() - (begunNs === 0n ? 0 : Number(nowNs - begunNs) / 1e6);
  return {
    seconds: () => (performance.now() - begunMs) / 1000,
    shouldStop: () => Atomics.load(cells, stopAt) === 1n,
  };
}
