/** Every rule that the checker examines, in the order of DEVELOPERS.md. */
export const ruleNames = [
  "sameOperation",
  "knownIds",
  // limits of a minute
  "dates",
  "daylight",
  "noForecast",
  "windLow",
  "wind",
  "gust",
  "deltaT",
  "temperature",
  "humidity",
  "rain",
  "rainfast",
  "wet",
  "bloom",
  "inversion",
  "closed",
  "entry",
  "rei",
  "phi",
  "retreatment",
  "drift",
  "driftNear",
  // limits that hold at every minute
  "method",
  "releaseHeight",
  "droplet",
  "slope",
  "rate",
  "label",
  "seasonMax",
  // the ground
  "blockNumbers",
  "blockGeometry",
  "treatedArea",
  "buffer",
  "blockAreas",
  "blockOverlap",
  "orderSplit",
  // how long
  "heading",
  "workMinutes",
  "workDetail",
  "batteryEnergy",
  "fuel",
  // when a work pauses
  "pauses",
  "pauseLength",
  "stretchLength",
  // who and with what
  "qualified",
  "maxAircraft",
  "mixedOutfit",
  "atWork",
  "homeBase",
  "transportSlots",
  "batterySets",
  "bay",
  "batteryStock",
  "oneCrewAtATime",
  "outOfService",
  // hours
  "horizon",
  "oneCrewDay",
  "shift",
  "dutyDay",
  "dutyWeek",
  "rest",
  "nightAway",
  "nightOutfit",
  "nightCharging",
  // the day, minute by minute
  "contiguous",
  "baseToBase",
  "place",
  "driveTime",
  "driveDistance",
  "setup",
  "packup",
  "cleanOut",
  "methodChange",
  "water",
  "refill",
  // between orders on one field
  "airspace",
  "interleave",
  "wait",
  // what is planned
  "plannedOnce",
  "conflictNamed",
  "because",
  "locked",
  "planFrom",
  "score",
  "proof",
] as const;
export type RuleName = (typeof ruleNames)[number];

/** What a breach is about; the members that apply. */
export interface Subject {
  readonly crewId?: string;
  readonly date?: string;
  readonly orderId?: string;
  readonly blockId?: string;
  readonly aircraftId?: string;
  readonly tenderId?: string;
  readonly chargerId?: string;
}

export interface Breach extends Subject {
  readonly rule: RuleName;
  readonly sentence: string;
  readonly actual?: number | string;
  readonly allowed?: number | string;
}

export interface CheckReport {
  readonly ok: boolean;
  /** How many times each rule was examined. */
  readonly checked: Readonly<Record<RuleName, number>>;
  readonly breaches: readonly Breach[];
}

export interface Finding {
  readonly sentence: string;
  readonly actual?: number | string;
  readonly allowed?: number | string;
}

/** Counts what was examined and keeps what was found. */
export class Ledger {
  readonly #checked = Object.fromEntries(ruleNames.map((rule) => [rule, 0])) as Record<RuleName, number>;
  readonly #breaches: Breach[] = [];

  /** One examination of a rule; the finding is made only when it does not hold. */
  expect(rule: RuleName, holds: boolean, subject: Subject, finding: () => Finding): void {
    this.#checked[rule]++;
    if (!holds) this.#breaches.push({ rule, ...subject, ...finding() });
  }

  report(): CheckReport {
    return { ok: this.#breaches.length === 0, checked: { ...this.#checked }, breaches: [...this.#breaches] };
  }
}

/** Sums of fractions may miss a limit by less than this without breaking it. */
export const rounding = 1e-6;

/** A figure as a sentence shows it. */
export function shown(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}
