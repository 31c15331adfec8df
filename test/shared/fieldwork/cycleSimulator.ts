import type { CycleDemand, Share } from "../../../shared/fieldwork/cycle.ts";

/**
 * Plays a block event by event, knowing nothing of bounds: aircraft take loads in turn, at the first free loading point, as soon as
 * one is mixed; a set that has flown its sorties is put on the first free bay for as long as what it gave takes, and the aircraft waits for a charged one. Neither
 * loading nor charging is begun out of turn.
 * Returns the time of the last landing.
 */
export function simulateCycle(demand: CycleDemand, { aircraft, loads, sortiesPerSet }: Share): number {
  const airS = Array.from(demand.beside.eachS(loads), (eachS) => eachS + demand.sprayS / loads);
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  const flying = Math.min(aircraft, loads);
  const battery = demand.battery;

  const readyS = Array<number>(flying).fill(0);
  const flownOnSet: (number | undefined)[] = [];
  const flownS = Array<number>(flying).fill(0);
  const pointFreeS = Array<number>(demand.loadingPoints).fill(0);
  const bayFreeS = Array<number>(battery?.bays ?? 0).fill(0);
  /** When each set that is in no aircraft is or will be full. */
  const spareReadyS = Array<number>(battery?.full ?? 0).fill(0);
  let mixedS = 0;
  let lastStartS = 0;
  let lastChargeS = 0;
  const putOnBay = (atS: number, chargeS: number) => {
    const bay = indexOfLeast(bayFreeS);
    lastChargeS = Math.max(atS, bayFreeS[bay]!, lastChargeS);
    bayFreeS[bay] = lastChargeS + chargeS;
    spareReadyS.push(bayFreeS[bay]!);
  };
  const takeSet = (atS: number): number => {
    const [readyS] = spareReadyS.splice(indexOfLeast(spareReadyS), 1);
    return Math.max(atS, readyS!);
  };
  if (battery !== undefined)
    for (let set = battery.full; set < battery.sets; set++) putOnBay(0, battery.neededFrac * battery.chargeS);
  let lastLandingS = 0;

  for (let load = 0; load < loads; load++) {
    const craft = load % flying;
    let atS = readyS[craft]!;
    if (flownOnSet[craft] === undefined) {
      if (demand.refuelsFirst) atS += demand.changeS;
      if (battery !== undefined) atS = takeSet(atS);
    }
    if (flownOnSet[craft] === sortiesPerSet) {
      if (battery !== undefined) {
        putOnBay(atS, battery.chargeS * Math.min(1, flownS[craft]! / demand.airMaxS));
        atS = takeSet(atS);
      }
      flownS[craft] = 0;
      atS += demand.changeS;
      flownOnSet[craft] = 0;
    }
    const point = indexOfLeast(pointFreeS);
    mixedS += mixS;
    const startS = Math.max(atS, pointFreeS[point]!, mixedS, lastStartS);
    lastStartS = startS;
    pointFreeS[point] = startS + loadS;
    readyS[craft] = startS + loadS + airS[load]!;
    flownS[craft]! += airS[load]!;
    flownOnSet[craft] = (flownOnSet[craft] ?? 0) + 1;
    lastLandingS = Math.max(lastLandingS, readyS[craft]!);
  }
  return lastLandingS;
}

function indexOfLeast(values: readonly number[]): number {
  return values.reduce((least, value, index) => (value < values[least]! ? index : least), 0);
}
