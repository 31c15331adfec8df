import type { Score } from "./plan.ts";

/** The parts of what a plan costs, in the order in which people read them, and their words: whatever sums, checks or shows them goes by this list. */
export const scorePartWords = {
  unservedCents: "orders left out, weighted by priority",
  lateCents: "after the preferred date",
  driveCents: "driving",
  labourCents: "wages",
  overtimeCents: "overtime on top",
  runningCents: "running the aircraft",
  outfitChangeCents: "changes of outfit",
  lodgingCents: "nights at other bases",
  riskCents: "hours that the forecast may miss",
  changeCents: "changes to the published plan",
} as const satisfies Partial<Record<keyof Score, string>>;

export type ScorePartName = keyof typeof scorePartWords;
export const scorePartNames = Object.keys(scorePartWords) as readonly ScorePartName[];
