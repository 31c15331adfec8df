import type { AircraftType } from "../model/fleet.ts";
import { m2FromHa, secondsPerMinute } from "../units/units.ts";
import { type Ground, swathOnMapM } from "./ground.ts";
import type { OutfitInput, WorkDetail, WorkOutcome } from "./workTime.ts";

export type Worked = Extract<WorkOutcome, { readonly ok: true }>;

/** The brochure's sum, and all that it leaves out. */
export const minuteParts = [
  "brochure",
  "slope",
  "overlap",
  "slower",
  "turns",
  "ferry",
  "takeoffs",
  "loading",
  "changing",
  "waitLoading",
  "waitMixing",
  "waitBatteries",
  "waitChargers",
  "idle",
] as const;
export type MinutePart = (typeof minuteParts)[number];
export type Reason = Exclude<MinutePart, "brochure">;

const words: Readonly<Record<Reason, string>> = {
  slope: "narrower swath on the slope",
  overlap: "overlap and fringe",
  slower: "slower for the flow",
  turns: "turns and hops",
  ferry: "ferrying",
  takeoffs: "taking off and landing",
  loading: "loading",
  changing: "changing sets",
  waitLoading: "waiting to be loaded",
  waitMixing: "waiting for the mix",
  waitBatteries: "waiting for a charged set",
  waitChargers: "waiting for a free bay",
  idle: "idle at the end",
};

/** Why the work takes longer, as a dispatcher says it. */
export function reasonWords(reason: Reason, { power }: Pick<AircraftType, "power">): string {
  return reason === "changing" && power.source === "fuel" ? "refuelling" : words[reason];
}

/** Ground, outfit and what comes of them. */
export interface Job {
  readonly ground: Ground;
  readonly slopePct: number;
  readonly outfit: OutfitInput;
  readonly work: Worked;
}

/** Minutes as a brochure reckons them, area / (swath x greatest speed x aircraft), against those that the work takes. */
export interface Comparison {
  readonly brochureMin: number;
  readonly minutes: number;
  /** Over all aircraft; they add up to minutes x aircraft. */
  readonly aircraftMin: Readonly<Record<MinutePart, number>>;
}

/** Coupling, checks and pumping, over all loads. */
export function loadingMin(
  { type, method, tender }: OutfitInput,
  { loads, amount }: Pick<WorkDetail, "loads" | "amount">,
): number {
  const pumping = method === "liquid" ? amount / tender.pumpLPerMin : 0;
  return (loads * type.loadS) / secondsPerMinute + pumping;
}

export function compareWithBrochure({ ground, slopePct, outfit, work }: Job): Comparison {
  const { areaHa, motion, swathPlan } = ground;
  const { detail, waitMin, minutes } = work;
  const { type, aircraftCount } = outfit;
  /** At full speed. */
  const passMin = (lengthM: number) => lengthM / motion.speedMaxMps / secondsPerMinute;
  const brochure = passMin(m2FromHa(areaHa) / motion.swathM);
  const onSlope = passMin(m2FromHa(areaHa) / swathOnMapM(motion.swathM, slopePct));
  const onPasses = passMin(swathPlan.passM);
  const takeoffs = (detail.loads * type.takeoffLandingS) / secondsPerMinute;
  const loading = loadingMin(outfit, detail);
  const known: Record<Exclude<MinutePart, "idle">, number> = {
    brochure,
    slope: onSlope - brochure,
    overlap: onPasses - onSlope,
    slower: detail.sprayMin - onPasses,
    turns: detail.turnMin,
    ferry: detail.ferryMin - takeoffs,
    takeoffs,
    loading,
    changing: detail.groundMin - loading,
    waitLoading: waitMin.loading,
    waitMixing: waitMin.mixing,
    waitBatteries: waitMin.batteries,
    waitChargers: waitMin.chargers,
  };
  // After an aircraft's own last landing, aircraft that stay on the ground, the rounding of the minute.
  const idle = minutes * aircraftCount - Object.values(known).reduce((sum, min) => sum + min, 0);
  return { brochureMin: brochure / aircraftCount, minutes, aircraftMin: { ...known, idle } };
}

/** Of work that is done one after the other by the same outfit. */
export function sumOfComparisons(list: readonly Comparison[]): Comparison {
  const sumOf = (value: (one: Comparison) => number) => list.reduce((sum, one) => sum + value(one), 0);
  const aircraftMin = Object.fromEntries(
    minuteParts.map((part) => [part, sumOf((one) => one.aircraftMin[part])]),
  ) as Record<MinutePart, number>;
  return { brochureMin: sumOf((one) => one.brochureMin), minutes: sumOf((one) => one.minutes), aircraftMin };
}

/** What makes the difference, greatest first. */
export function reasonsOf({ aircraftMin }: Comparison): { readonly reason: Reason; readonly aircraftMin: number }[] {
  return minuteParts
    .filter((part) => part !== "brochure")
    .map((reason) => ({ reason, aircraftMin: aircraftMin[reason] }))
    .filter((one) => one.aircraftMin > 0)
    .sort((a, b) => b.aircraftMin - a.aircraftMin);
}
