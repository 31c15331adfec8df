import type { Obstacle } from "../../../../../shared/plan/plan.ts";
import { obstacleWords } from "../../../../../shared/plan/words.ts";

/** What is needed of the units that are chosen; a speed in km/h and so on. */
export interface Quantities {
  areaHa(area: number): string;
  lengthM(length: number): string;
  windKph(speed: number): string;
  temperatureC(temperature: number): string;
  deltaC(difference: number): string;
  volumeL(volume: number): string;
  rateLPerHa(rate: number): string;
  rainMm(rain: number): string;
}

interface Names {
  crewName(id: string): string;
  dayWords(date: string): string;
  /** Of an instant, on the operation's clocks. */
  momentWords(iso: string): string;
  durationWords(minutes: number): string;
  moneyWords(cents: number): string;
}

/** A quantity of the evidence in the units that are chosen; one without a number as it stands. */
export function quantityWords(value: unknown, unit: string, limit: string, quantities: Quantities): string {
  if (typeof value !== "number") return String(value);
  switch (unit) {
    case "km/h":
      return quantities.windKph(value);
    case "°C":
      return limit === "deltaT" ? quantities.deltaC(value) : quantities.temperatureC(value);
    case "m":
      return quantities.lengthM(value);
    case "ha":
      return quantities.areaHa(value);
    case "mm":
      return quantities.rainMm(value);
    case "L":
      return quantities.volumeL(value);
    case "L/ha":
      return quantities.rateLPerHa(value);
    default:
      return [plain(value), unit].filter(Boolean).join(" ");
  }
}

const plain = (value: number) => value.toLocaleString("en-GB", { maximumFractionDigits: 1 });

/** What is beside an obstacle's own sentence: how it comes nearest to being allowed, when, and for how much of the time it stands in the way. */
export function obstacleDetail({ data, limit }: Obstacle, quantities: Quantities, names: Names): string | null {
  const { actual, allowed, at, ofHours, stoppedHours, unit } = data;
  const parts: string[] = [];
  if (typeof unit === "string" && typeof actual === "number" && allowed !== undefined) {
    const least = quantityWords(actual, unit, limit, quantities);
    parts.push(`${least}, where ${quantityWords(allowed, unit, limit, quantities)} is the limit`);
  }
  if (typeof at === "string") parts.push(`nearest to it on ${names.momentWords(at)}`);
  if (typeof stoppedHours === "number" && typeof ofHours === "number" && ofHours > 0) {
    parts.push(`${obstacleWords[limit]} closes ${plain(stoppedHours)} of ${plain(ofHours)} hours`);
  }
  if (parts.length === 0) return null;
  const words = parts.join("; ");
  return `${words[0]!.toUpperCase()}${words.slice(1)}.`;
}

type Evidence = Readonly<Record<string, unknown>>;

/** The evidence of a conflict as sentences; what no sentence is known for is left out, because its own sentence says the same. */
export function evidenceWords(evidence: Evidence, quantities: Quantities, names: Names): string[] {
  return [
    ...fitsAlone(evidence, names),
    ...costs(evidence, names),
    ...windows(evidence, names),
    ...lostHours(evidence),
    ...crewDays(evidence, names),
    ...instead(evidence, quantities, names),
  ];
}

const isRecord = (value: unknown): value is Evidence => typeof value === "object" && value !== null;
const crewDayIn = (value: unknown, { crewName, dayWords }: Names): string | null =>
  isRecord(value) && typeof value.crewId === "string" && typeof value.date === "string"
    ? `${crewName(value.crewId)} on ${dayWords(value.date)}`
    : null;

function fitsAlone(evidence: Evidence, names: Names): string[] {
  const who = crewDayIn(evidence.fitsAlone, names);
  return who === null ? [] : [`In an empty week ${who} could do it.`];
}

function costs({ costCents, crewDay, valueCents }: Evidence, names: Names): string[] {
  if (typeof costCents !== "number" || typeof valueCents !== "number") return [];
  const who = crewDayIn(crewDay, names);
  return [
    `${who === null ? "It" : `With ${who} it`} would cost ${names.moneyWords(costCents)} and is worth ${names.moneyWords(valueCents)}.`,
  ];
}

function windows({ longestWindowMin, maySplit, nightOnly, workMin }: Evidence, names: Names): string[] {
  if (typeof workMin !== "number" || typeof longestWindowMin !== "number") return [];
  return [
    `The work takes ${names.durationWords(workMin)} at best; the longest time open to it is ${names.durationWords(longestWindowMin)}.`,
    ...(maySplit === false ? ["The order may not be done in parts."] : []),
    ...(nightOnly === true ? ["It is open at night only, for a crew that works by night."] : []),
  ];
}

const isLimit = (name: string): name is keyof typeof obstacleWords => name in obstacleWords;

function lostHours({ lostHours: lost }: Evidence): string[] {
  if (!isRecord(lost)) return [];
  const told = Object.entries(lost).flatMap(([limit, hours]) =>
    isLimit(limit) && typeof hours === "number" ? [`${obstacleWords[limit]} ${plain(hours)} h`] : [],
  );
  return told.length === 0 ? [] : [`Hours between its dates that are closed by: ${told.join(", ")}.`];
}

/** Our choice: so many are told; the sentence above them counts all. */
const mostTold = 6;

function crewDays({ crewDays: days }: Evidence, names: Names): string[] {
  if (!Array.isArray(days)) return [];
  const told = days.flatMap((one: unknown) => {
    const who = crewDayIn(one, names);
    if (who === null || !isRecord(one)) return [];
    const { dutyMaxMin, dutyMin, stops } = one;
    if (typeof dutyMin !== "number" || typeof dutyMaxMin !== "number") return [who];
    const use = `${names.durationWords(dutyMin)} of ${names.durationWords(dutyMaxMin)} on duty`;
    return [stops === 0 ? `${who} (not out)` : `${who} (${use})`];
  });
  if (told.length === 0) return [];
  const more = told.length > mostTold ? ` and ${told.length - mostTold} more` : "";
  return [`Crews that could do it: ${told.slice(0, mostTold).join("; ")}${more}.`];
}

function instead({ instead: swaps }: Evidence, quantities: Quantities, names: Names): string[] {
  if (!Array.isArray(swaps)) return [];
  return swaps.slice(0, mostTold).flatMap((swap: unknown) => {
    const who = crewDayIn(swap, names);
    if (who === null || !isRecord(swap) || !Array.isArray(swap.displaced)) return [];
    const out = swap.displaced.flatMap((one: unknown) =>
      isRecord(one) && typeof one.orderId === "string" && typeof one.areaHa === "number"
        ? [`${one.orderId} (${quantities.areaHa(one.areaHa)})`]
        : [],
    );
    const { lossCents, wouldGainCents } = swap;
    const comesTo =
      typeof lossCents === "number"
        ? `, and ${names.moneyWords(lossCents)} would be lost by it`
        : typeof wouldGainCents === "number"
          ? `, and ${names.moneyWords(wouldGainCents)} would be won by it: longer planning may find this`
          : "";
    return [`${who} could do it in place of ${out.join(" and ")}${comesTo}.`];
  });
}
