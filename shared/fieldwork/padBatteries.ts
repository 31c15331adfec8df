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

/** Our choice: a bay that is free so little sooner than a charge begins has been waited for. */
const slackS = 1e-6;
const fullFromTheStart = -1;

/**
 * The battery sets and bays at the pad of one block, as it is played; seconds from its start. Charges go by number, in the order in which they
 * begin. One is used for play after play, so that plays make no rubbish.
 */
export class PadBatteries {
  #chargeS = 0;
  #bays = 0;
  #charges = 0;
  #bayFreeS = new Float64Array(8);
  #startS = new Float64Array(64);
  #fullS = new Float64Array(64);
  /** When the bay of each charge became free. */
  #freeS = new Float64Array(64);
  /** Sets that need no charge, and the charges of the others that are in no aircraft. */
  #fullAtPad = 0;
  #atPad = new Int32Array(64);
  #atPadCount = 0;

  /** The sets as a block finds them, before at most so many changes. */
  begin({ sets, full, neededFrac, bays, chargeS }: BatteryDemand, changesMost: number): void {
    const chargesMost = Math.max(0, sets - full) + changesMost;
    if (this.#bayFreeS.length < bays) this.#bayFreeS = new Float64Array(2 * bays);
    if (this.#startS.length < chargesMost) {
      this.#startS = new Float64Array(2 * chargesMost);
      this.#fullS = new Float64Array(2 * chargesMost);
      this.#freeS = new Float64Array(2 * chargesMost);
      this.#atPad = new Int32Array(2 * chargesMost);
    }
    this.#chargeS = chargeS;
    this.#bays = bays;
    this.#charges = 0;
    this.#bayFreeS.fill(0, 0, bays);
    this.#fullAtPad = full;
    this.#atPadCount = 0;
    for (let waiting = full; waiting < sets; waiting++) this.putOnBay(0, neededFrac);
  }

  /** A set that has given a share of what it holds comes down and goes on the first free bay, not before the one before it. */
  putOnBay(backS: number, givenFrac: number): void {
    const bayFreeS = this.#bayFreeS;
    let bay = 0;
    for (let other = 1; other < this.#bays; other++) if (bayFreeS[other]! < bayFreeS[bay]!) bay = other;
    const charge = this.#charges++;
    const freeS = bayFreeS[bay]!;
    const startS = Math.max(backS, freeS, charge > 0 ? this.#startS[charge - 1]! : 0);
    const fullS = startS + givenFrac * this.#chargeS;
    this.#startS[charge] = startS;
    this.#fullS[charge] = fullS;
    this.#freeS[charge] = freeS;
    bayFreeS[bay] = fullS;
    this.#atPad[this.#atPadCount++] = charge;
  }

  /** Takes the set that is full soonest: the charge that it comes from. */
  takeSet(): number {
    if (this.#fullAtPad > 0) {
      this.#fullAtPad--;
      return fullFromTheStart;
    }
    const atPad = this.#atPad;
    const fullS = this.#fullS;
    let soonest = 0;
    for (let other = 1; other < this.#atPadCount; other++) {
      if (fullS[atPad[other]!]! < fullS[atPad[soonest]!]!) soonest = other;
    }
    const charge = atPad[soonest]!;
    this.#atPadCount--;
    for (let at = soonest; at < this.#atPadCount; at++) atPad[at] = atPad[at + 1]!;
    return charge;
  }

  fullS(charge: number): number {
    return charge === fullFromTheStart ? 0 : this.#fullS[charge]!;
  }

  /** Whether the set waited for its bay rather than only for its charge. */
  hasQueued(charge: number): boolean {
    if (charge === fullFromTheStart) return false;
    const freeS = this.#freeS[charge]!;
    return freeS > 0 && freeS >= this.#startS[charge]! - slackS;
  }

  /** Charging done and left, and sets that are not full, at a time after which nothing comes down. */
  at(timeS: number): { readonly chargingS: number; readonly leftChargeS: number; readonly waitingSets: number } {
    let [chargingS, leftChargeS, waitingSets] = [0, 0, 0];
    for (let charge = 0; charge < this.#charges; charge++) {
      const durationS = this.#fullS[charge]! - this.#startS[charge]!;
      const leftS = Math.min(durationS, Math.max(0, this.#fullS[charge]! - timeS));
      leftChargeS += leftS;
      chargingS += durationS - leftS;
      if (leftS > 0) waitingSets++;
    }
    return { chargingS, leftChargeS, waitingSets };
  }
}
