import {
  type ClosedCycle,
  cycleLimit,
  type MeanValues,
  meanValuesOf,
  type Station,
} from "../../../shared/fieldwork/closedCycle.ts";
import { playCycle } from "../../../shared/fieldwork/closedCyclePlay.ts";
import { minutesPerHour } from "../../../shared/model/calendar.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { secondsPerMinute } from "../../../shared/units/units.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";
import { counted, figureWords, signedPct } from "./words.ts";

const boundLaw =
  "the lesser of aircraft / minutes of a round and points (or people) / minutes of a service (asymptotic bounds; Lazowska " +
  "et al., Quantitative System Performance, 1984, chapter 5)";
const randomLaw =
  "exact for exponential services and flights of any spread: closed queueing network by convolution (Buzen 1973), the " +
  "values of mean value analysis (Lazowska et al., chapter 6) and of the machine-repair model M/M/c//N";
const playedLaw =
  "played, first come, first served, from the moment all aircraft stand ready to the last landing, which comes at " +
  "most one round later than at the pace of the bound (an event graph: Baccelli et al., Synchronization and Linearity, " +
  "1992, chapter 2)";
const leftOut = "batteries are taken to be charged in time; plans reckon with sets, bays and chargers";

/** Rounding in the last digits does not ask for another aircraft. */
const roundingSlack = 1e-9;

/** Who or what serves, one and several. */
const serverWords = {
  aircraft: ["aircraft", "aircraft"],
  loading: ["loading point", "loading points"],
  changing: ["person", "people"],
} as const;
const placeWords = { aircraft: "the aircraft", loading: "loading", changing: "changing batteries" } as const;

export interface CycleOptions {
  readonly aircraft: number;
  readonly fly: number;
  readonly load: number;
  readonly points: number;
  readonly change?: number;
  readonly changers?: number;
  readonly sorties: number;
  readonly json?: boolean;
}

interface NamedStation extends Station {
  readonly name: "loading" | "changing";
}

interface Rates {
  readonly bound: number;
  readonly atRandom: number;
  readonly played: number;
}

const rateRows: readonly { readonly of: keyof Rates; readonly name: (sorties: number) => string }[] = [
  { of: "bound", name: () => "bound: nobody does more" },
  { of: "played", name: (sorties) => `times never vary, ${counted(sorties, ["sortie", "sorties"])}` },
  { of: "atRandom", name: () => "times vary at random, long run" },
];

export async function cycleVerb(options: CycleOptions): Promise<number> {
  const { aircraft, fly, sorties, json } = options;
  const stations = stationsOf(options);
  const cycle: ClosedCycle = { aircraft, stations, flightS: fly * secondsPerMinute };
  const rates = ratesPerHour(cycle, sorties);
  const more = [
    { of: "aircraft" as const, pct: gainPct(rates, { ...cycle, aircraft: aircraft + 1 }, sorties) },
    ...stations.map((station, at) => {
      const stronger = stations.with(at, { ...station, servers: station.servers + 1 });
      return { of: station.name, pct: gainPct(rates, { ...cycle, stations: stronger }, sorties) };
    }),
  ];
  const { limitedBy, slowest, aircraftEnough } = cycleLimit(cycle);
  const slowestStation = stations[slowest]!.name;
  const bottleneck = limitedBy === "aircraft" ? limitedBy : slowestStation;
  const means = meanValuesOf(cycle).stations;
  if (json) {
    printJson({
      aircraft,
      flyMin: fly,
      stations: stations.map(({ name, serviceS, servers }, at) => ({
        name,
        serviceMin: serviceS / secondsPerMinute,
        servers,
        atRandom: {
          busyFrac: means[at]!.busyFrac,
          waitMin: means[at]!.waitS / secondsPerMinute,
          waitingAircraft: means[at]!.waiting,
        },
      })),
      sortiesPerHour: rates,
      playedSorties: sorties,
      oneMorePct: Object.fromEntries(more.map(({ of, pct }) => [of, pct])),
      bottleneck,
      slowestStation,
      aircraftEnough,
      laws: { bound: boundLaw, atRandom: randomLaw, played: playedLaw },
      leftOut,
    });
    return exitCodes.good;
  }
  const sortie = [...stations.map(stationWords), `flying ${fly} min`].join(", ");
  for (const line of wrapped(`${counted(aircraft, serverWords.aircraft)}; each sortie: ${sortie}`, 0)) print(line);
  const head = ["", "sorties/h", ...more.map(({ of }) => `+1 ${serverWords[of][0]}`)];
  const body = rateRows.map(({ name, of }) => [
    name(sorties),
    rates[of].toFixed(1),
    ...more.map(({ pct }) => signedPct(pct[of])),
  ]);
  for (const line of textTable([head, ...body], { indent: 0, right: head.map((_, at) => at).slice(1) })) print(line);
  const enough = Math.ceil(aircraftEnough - roundingSlack);
  const keepBusy = counted(enough, ["aircraft keeps", "aircraft keep"]);
  const paragraphs = [
    `Bottleneck: ${placeWords[bottleneck]}. ${keepBusy} ${placeWords[slowestStation]} busy without a break if times never vary.`,
    ...stations.map(({ name }, at) => randomWords(name, means[at]!)),
    `Bound: ${boundLaw}.`,
    `Times never vary: ${playedLaw}.`,
    `Times vary at random: ${randomLaw}.`,
    `Left out: ${leftOut}.`,
  ];
  for (const line of paragraphs.flatMap((text) => wrapped(text, 0))) print(line);
  return exitCodes.good;
}

function ratesPerHour(cycle: ClosedCycle, sorties: number): Rates {
  const perHour = secondsPerMinute * minutesPerHour;
  return {
    bound: cycleLimit(cycle).perS * perHour,
    atRandom: meanValuesOf(cycle).perS * perHour,
    played: (sorties / playCycle(cycle, sorties, (meanS) => meanS).totalS) * perHour,
  };
}

function gainPct(before: Rates, cycle: ClosedCycle, sorties: number): Rates {
  const after = ratesPerHour(cycle, sorties);
  const pct = (of: keyof Rates) => 100 * (after[of] / before[of] - 1);
  return { bound: pct("bound"), atRandom: pct("atRandom"), played: pct("played") };
}

function stationsOf({ load, points, change, changers }: CycleOptions): NamedStation[] {
  if (change === undefined && changers !== undefined) {
    throw new BadInput([`--changers: ${changers}; expected --change, too: the minutes that changing takes`]);
  }
  const loading: NamedStation = {
    name: "loading",
    serviceS: load * secondsPerMinute,
    servers: points,
  };
  if (change === undefined) return [loading];
  const changing: NamedStation = {
    name: "changing",
    serviceS: change * secondsPerMinute,
    servers: changers ?? 1,
  };
  return [changing, loading];
}

function stationWords({ name, serviceS, servers }: NamedStation): string {
  return `${placeWords[name]} ${figureWords(serviceS / secondsPerMinute)} min (${counted(servers, serverWords[name])})`;
}

function randomWords(name: NamedStation["name"], { busyFrac, waitS }: MeanValues["stations"][number]): string {
  const busyPct = (100 * busyFrac).toFixed(0);
  const waitMin = (waitS / secondsPerMinute).toFixed(1);
  return `At random, a ${serverWords[name][0]} is busy ${busyPct} % of the time and each sortie waits ${waitMin} min for ${placeWords[name]}.`;
}
