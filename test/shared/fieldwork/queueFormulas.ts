/**
 * Textbook recursions beside which the product's convolution is held. Both are other ways to the same numbers: one goes up
 * aircraft by aircraft, the other solves a birth-and-death chain.
 */

/**
 * Exact mean value analysis of single-server stations with demands D and a delay Z: R(n) = D (1 + Q(n-1)),
 * X(n) = n / (Z + sum of R), Q(n) = X R. Lazowska et al., Quantitative System Performance, 1984, chapter 6.
 */
export function meanValueAnalysis(demands: readonly number[], delay: number, customers: number) {
  let queues = demands.map(() => 0);
  let residences: readonly number[] = demands;
  let throughput = 0;
  for (let n = 1; n <= customers; n++) {
    residences = demands.map((demand, at) => demand * (1 + queues[at]!));
    throughput = n / residences.reduce((sum, residence) => sum + residence, delay);
    queues = residences.map((residence) => throughput * residence);
  }
  return { throughput, residences, queues };
}

/** Machine repair, M/M/c//N: n machines down, failing at (N - n) / up, repaired at min(n, c) / repair. */
export function machineRepair(machines: number, repairers: number, up: number, repair: number) {
  // Logarithms, because the weights of a crowded shop overflow.
  const logs = [0];
  for (let down = 1; down <= machines; down++) {
    const failures = (machines - down + 1) / up;
    const repairs = Math.min(down, repairers) / repair;
    logs.push(logs[down - 1]! + Math.log(failures / repairs));
  }
  const most = Math.max(...logs);
  const chances = logs.map((log) => Math.exp(log - most));
  const sum = chances.reduce((a, b) => a + b);
  const mean = (value: (down: number) => number) =>
    chances.reduce((total, chance, down) => total + (chance / sum) * value(down), 0);
  return {
    throughput: mean((down) => Math.min(down, repairers) / repair),
    down: mean((down) => down),
    waiting: mean((down) => Math.max(0, down - repairers)),
  };
}
