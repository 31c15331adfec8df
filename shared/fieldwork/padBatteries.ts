export interface BatteryDemand {
  readonly sets: number;
  /** Of these, charged when the block begins; the others go on the bays then. */
  readonly full: number;
  /** What each of these others needs of a whole charge. */
  readonly neededFrac: number;
  /** Bays that charge at once. */
  readonly bays: number;
  /** From the reserve to full; a set that gave less takes less. */
  readonly chargeS: number;
}

/** The battery sets and bays at the pad of one block, as it is played; seconds from its start. */
export interface PadBatteries {
  /** A set that has given a share of what it holds comes down and goes on the first free bay, not before the one before it. */
  putOnBay(backS: number, givenFrac: number): void;
  /** Takes the set that is full soonest: when it is, and whether it waited for its bay rather than only for its charge. */
  takeSet(): { readonly fullS: number; readonly hasQueued: boolean };
  /** Charging done and left, and sets that are not full, at a time after which nothing comes down. */
  at(timeS: number): { readonly chargingS: number; readonly leftChargeS: number; readonly waitingSets: number };
}

interface Charge {
  readonly startS: number;
  readonly fullS: number;
  readonly bayFreeS: number;
}

/** Our choice: a bay that is free so little sooner than a charge begins has been waited for. */
const slackS = 1e-6;

export function createPadBatteries({ sets, full, neededFrac, bays, chargeS }: BatteryDemand): PadBatteries {
  const charges: Charge[] = [];
  /** Sets that need no charge, and the charges of the others that are in no aircraft. */
  let fullAtPad = full;
  const atPad: Charge[] = [];
  const bayFreeS = new Float64Array(bays);
  const putOnBay = (backS: number, givenFrac: number): void => {
    let bay = 0;
    for (let other = 1; other < bays; other++) if (bayFreeS[other]! < bayFreeS[bay]!) bay = other;
    const startS = Math.max(backS, bayFreeS[bay]!, charges[charges.length - 1]?.startS ?? 0);
    const charge = { startS, fullS: startS + givenFrac * chargeS, bayFreeS: bayFreeS[bay]! };
    charges.push(charge);
    atPad.push(charge);
    bayFreeS[bay] = charge.fullS;
  };
  for (let waiting = full; waiting < sets; waiting++) putOnBay(0, neededFrac);

  return {
    putOnBay,
    takeSet: () => {
      if (fullAtPad > 0) {
        fullAtPad--;
        return { fullS: 0, hasQueued: false };
      }
      let soonest = 0;
      for (let other = 1; other < atPad.length; other++)
        if (atPad[other]!.fullS < atPad[soonest]!.fullS) soonest = other;
      const [charge] = atPad.splice(soonest, 1);
      const { startS, fullS, bayFreeS: freeS } = charge!;
      return { fullS, hasQueued: freeS > 0 && freeS >= startS - slackS };
    },
    at: (timeS) => {
      let [chargingS, leftChargeS, waitingSets] = [0, 0, 0];
      for (const { startS, fullS } of charges) {
        const leftS = Math.min(fullS - startS, Math.max(0, fullS - timeS));
        leftChargeS += leftS;
        chargingS += fullS - startS - leftS;
        if (leftS > 0) waitingSets++;
      }
      return { chargingS, leftChargeS, waitingSets };
    },
  };
}
