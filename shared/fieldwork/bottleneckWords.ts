import { secondsPerMinute } from "../units/units.ts";
import { loadingMin, reasonWords, type Worked } from "./brochure.ts";
import type { Bottleneck, Wait } from "./cycle.ts";
import type { Gain } from "./gains.ts";
import type { OutfitInput } from "./workTime.ts";

/** Our choice: so many gains are told, and only shares that make a percent when rounded. */
const gainsTold = 3;
const leastFrac = 0.005;
/** Our choice: of shorter work a whole minute is too much of it for percents, so minutes are told, and where it more than halves the time. */
const percentFromMin = 30;
/** Our choice: so many of the things that aircraft are at, and standing idle from this share of the time. */
const doingsTold = 2;
const idleToldFrac = 0.05;

const waitWords: Readonly<Record<Wait, string>> = {
  loading: "to be loaded",
  mixing: "for the mix",
  batteries: "for a charged set",
  chargers: "for a free bay",
};

const ordinals = ["second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];

/** What holds the work up. */
export function bottleneckWords(outfit: OutfitInput, work: Worked): string {
  const { waitMin, use, detail } = work;
  const { bottleneck } = detail;
  const [they, are, wait, their] =
    outfit.aircraftCount === 1 ? ["it", "is", "waits", "its"] : ["they", "are", "wait", "their"];
  const totalMin = exactMin(work);
  if (isWait(bottleneck)) {
    const aircraft = outfit.aircraftCount === 1 ? "the aircraft" : `the ${outfit.aircraftCount} aircraft`;
    return `${bottleneck}: ${aircraft} ${wait} ${percent(waitMin[bottleneck] / totalMin)} of ${their} time ${waitWords[bottleneck]}`;
  }
  const waitFrac = Object.values(waitMin).reduce((sum, min) => sum + min, 0) / totalMin;
  const idleFrac = 1 - use.aircraftFrac - waitFrac;
  const doings = doingsOf(outfit, work).slice(0, doingsTold).join(", ");
  return [
    `aircraft: ${they} ${are} at work ${percent(use.aircraftFrac)} of the time (${doings})`,
    ...(waitFrac >= leastFrac ? [`${wait} ${percent(waitFrac)}`] : []),
    ...(idleFrac >= idleToldFrac ? [`${are} idle at the end ${percent(idleFrac)}`] : []),
  ].join(", ");
}

function isWait(bottleneck: Bottleneck): bottleneck is Wait {
  return bottleneck !== "aircraft";
}

/** In a word or two, for a column. */
export function bottleneckShort(outfit: OutfitInput, work: Worked): string {
  const { bottleneck } = work.detail;
  return isWait(bottleneck) ? bottleneck : `aircraft (${doingsOf(outfit, work)[0]})`;
}

/** What the aircraft are at, with its share of the exact time, the longest first. */
function doingsOf(outfit: OutfitInput, work: Worked): string[] {
  const { type } = outfit;
  const { loads, sprayMin, turnMin, ferryMin, groundMin } = work.detail;
  const takeoffs = (loads * type.takeoffLandingS) / secondsPerMinute;
  const loading = loadingMin(outfit, work.detail);
  const doings: [string, number][] = [
    ["on passes", sprayMin],
    ["turns", turnMin],
    ["ferrying", ferryMin - takeoffs],
    ["take-offs", takeoffs],
    ["loading", loading],
    [reasonWords("changing", type), groundMin - loading],
  ];
  return doings.sort(([, a], [, b]) => b - a).map(([doing, min]) => `${doing} ${percent(min / exactMin(work))}`);
}

/** Over all aircraft, not rounded up to the minute, as for all shares in use. */
function exactMin({ use, detail }: Worked): number {
  const { sprayMin, turnMin, ferryMin, groundMin } = detail;
  return (sprayMin + turnMin + ferryMin + groundMin) / use.aircraftFrac;
}

/** What more of anything would gain, the most first; what it gains without another aircraft is what the outfit lacks. */
export function gainWords(outfit: OutfitInput, { minutes }: Worked, gains: readonly Gain[]): string {
  const told = gains
    .filter(({ gainFrac }) => gainFrac >= leastFrac)
    .sort((a, b) => b.gainFrac - a.gainFrac)
    .slice(0, gainsTold);
  if (told.length === 0) return "nothing more in the outfit makes it quicker";
  const [most, ...others] = told.map((gain) => {
    const inMin = minutes < percentFromMin || gain.gainFrac > 1;
    const gained = inMin ? `${gain.minutes} instead of ${minutes} min` : percent(gain.gainFrac);
    return `${additionWords(outfit, gain)} (${gained})`;
  });
  if (others.length === 0) return most!;
  return `${most}; ${told[0]!.addition === "aircraft" ? "without it" : "then"} ${others.join(", ")}`;
}

function additionWords(
  { type, method }: OutfitInput,
  { addition, becomes, generatorKw, tenderPlaces }: Omit<Gain, "minutes" | "gainFrac">,
): string {
  switch (addition) {
    case "aircraft": {
      const beside = [
        ...(type.power.source === "battery" ? ["a battery set"] : []),
        ...(tenderPlaces === undefined ? [] : ["a tender that has a place for it"]),
      ];
      return `${oneMore(becomes, "aircraft")}${beside.length === 0 ? "" : ` with ${beside.join(" and ")}`}`;
    }
    case "batterySet":
      return oneMore(becomes, "battery set");
    case "bay":
      return `${oneMore(becomes, "bay")}${generatorKw === undefined ? "" : ` with a generator of ${figure(generatorKw)} kW`}`;
    case "generator":
      return `a generator of ${figure(becomes)} kW for all bays`;
    case "loadingPoint":
      return oneMore(becomes, "loading point");
    case "pump":
      return `a faster pump of ${figure(becomes)} L/min`;
    case "mixer":
      return `a faster mixer of ${figure(becomes)} L/min`;
    case "tank":
      return method === "liquid" ? `a larger tank of ${figure(becomes)} L` : `a larger hopper of ${figure(becomes)} kg`;
  }
}

function oneMore(becomes: number, thing: string): string {
  const ordinal = ordinals[becomes - 2];
  if (ordinal === undefined) return `one more ${thing}`;
  return `${ordinal.startsWith("e") ? "an" : "a"} ${ordinal} ${thing}`;
}

function percent(frac: number): string {
  return `${Math.round(100 * frac)} %`;
}

function figure(value: number): string {
  return String(Number(value.toFixed(1)));
}
