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
  /** What each aircraft does next, when, and who comes first of those that come at the same time. */
  const next = new Int32Array(aircraft);
  const nextS = new Float64Array(aircraft);
  const turn = Float64Array.from({ length: aircraft }, (_, craft) => craft);
  let turns = aircraft;
  let landed = 0;

  for (;;) {
    const craft = first(nextS, turn);
    const nowS = nextS[craft]!;
    const station = next[craft]!;
    turn[craft] = turns++;
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

function first(nextS: Float64Array, turn: Float64Array): number {
  let found = 0;
  for (let craft = 1; craft < nextS.length; craft++) {
    const laterS = nextS[craft]! - nextS[found]!;
    if (laterS < 0 || (laterS === 0 && turn[craft]! < turn[found]!)) found = craft;
  }
  return found;
}
