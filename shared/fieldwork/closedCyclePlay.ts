import type { ClosedCycle } from "./closedCycle.ts";

export interface PlayedCycle {
  /** From the first aircraft's coming to the first station to the last landing that was asked for. */
  readonly totalS: number;
  /** Mean wait of a visit to each station. */
  readonly waitS: readonly number[];
}

/**
 * Plays a closed cycle event by event until so many sorties have landed. All aircraft stand at the first station at the start.
 * `draw` gives a time by its mean: the mean itself for times that never vary.
 */
export function playCycle(
  { aircraft, stations, flightS }: ClosedCycle,
  sorties: number,
  draw: (meanS: number) => number,
): PlayedCycle {
  const landing = stations.length;
  const freeS = stations.map(({ servers }) => new Float64Array(servers));
  const waitedS = new Float64Array(stations.length);
  const visits = new Float64Array(stations.length);
  /** Where each aircraft comes next, and when. Of those that come at the same time any may be first: they are alike. */
  const next = new Int32Array(aircraft);
  const nextS = new Float64Array(aircraft);
  let landed = 0;

  for (;;) {
    const nowS = Math.min(...nextS);
    const craft = nextS.indexOf(nowS);
    const station = next[craft]!;
    if (station === landing) {
      landed++;
      if (landed === sorties) return { totalS: nowS, waitS: [...waitedS.map((sumS, at) => sumS / visits[at]!)] };
      next[craft] = 0;
      continue;
    }
    // Events come in the order of time, so whoever is first here is served first.
    const free = freeS[station]!;
    const server = free.indexOf(Math.min(...free));
    const startS = Math.max(nowS, free[server]!);
    waitedS[station]! += startS - nowS;
    visits[station]!++;
    free[server] = startS + draw(stations[station]!.serviceS);
    next[craft] = station + 1;
    nextS[craft] = free[server]! + (station + 1 === landing ? draw(flightS) : 0);
  }
}
