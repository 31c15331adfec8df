import type { Worked } from "./brochure.ts";
import type { Bottleneck, Wait } from "./cycle.ts";
import type { Gain } from "./gains.ts";
import type { OutfitInput } from "./workTime.ts";

/** Our choice: so many gains are told, and only shares that make a percent when rounded. */
const gainsTold = 3;
const leastFrac = 0.005;

const waitWords: Readonly<Record<Wait, string>> = {
  loading: "to be loaded",
  mixing: "for the mix",
  batteries: "for a charged set",
  chargers: "for a free bay",
};

const ordinals = ["second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];

/** What holds the work up, and what more of anything would gain. */
export function bottleneckWords(outfit: OutfitInput, work: Worked, gains: readonly Gain[]): string {
  return `${holdUpWords(outfit, work)}; ${gainWords(outfit, gains)}`;
}

function holdUpWords(
  { aircraftCount }: OutfitInput,
  { minutes, waitMin, use, detail: { bottleneck } }: Worked,
): string {
  const share = (min: number) => min / (aircraftCount * minutes);
  const [they, are, wait, their] =
    aircraftCount === 1 ? ["it", "is", "waits", "its"] : ["they", "are", "wait", "their"];
  if (isWait(bottleneck)) {
    const aircraft = aircraftCount === 1 ? "the aircraft" : `the ${aircraftCount} aircraft`;
    return `${bottleneck}: ${aircraft} ${wait} ${percent(share(waitMin[bottleneck]))} of ${their} time ${waitWords[bottleneck]}`;
  }
  const waitFrac = share(Object.values(waitMin).reduce((sum, min) => sum + min, 0));
  const waiting = waitFrac < leastFrac ? `hardly ${wait}` : `${wait} ${percent(waitFrac)} of it`;
  return `aircraft: ${they} ${are} at work ${percent(use.aircraftFrac)} of the time and ${waiting}`;
}

function isWait(bottleneck: Bottleneck): bottleneck is Wait {
  return bottleneck !== "aircraft";
}

function gainWords(outfit: OutfitInput, gains: readonly Gain[]): string {
  const told = gains
    .filter(({ gainFrac }) => gainFrac >= leastFrac)
    .sort((a, b) => b.gainFrac - a.gainFrac)
    .slice(0, gainsTold);
  if (told.length === 0) return "nothing more in the outfit makes it quicker";
  return told
    .map((gain, index) => `${additionWords(outfit, gain)}${index === 0 ? " gains" : ""} ${percent(gain.gainFrac)}`)
    .join(", ");
}

function additionWords(
  { type, method }: OutfitInput,
  { addition, becomes, generatorKw }: Pick<Gain, "addition" | "becomes" | "generatorKw">,
): string {
  switch (addition) {
    case "aircraft":
      return `${oneMore(becomes, "aircraft")}${type.power.source === "battery" ? " with a battery set" : ""}`;
    case "batterySet":
      return oneMore(becomes, "battery set");
    case "bay":
      return `${oneMore(becomes, "bay")}${generatorKw === undefined ? "" : ` with a generator of ${figure(generatorKw)} kW`}`;
    case "generator":
      return `a generator of ${figure(becomes)} kW for all bays`;
    case "loadingPoint":
      return oneMore(becomes, "loading point");
    case "pump":
      return `a pump of ${figure(becomes)} L/min`;
    case "mixer":
      return `a mixer of ${figure(becomes)} L/min`;
    case "tank":
      return method === "liquid" ? `a tank of ${figure(becomes)} L` : `a hopper of ${figure(becomes)} kg`;
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
