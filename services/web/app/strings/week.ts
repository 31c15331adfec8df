import type { LimitName } from "../../../../shared/agronomy/limits.ts";
import type { LockKind } from "../../../../shared/plan/planLocks.ts";
import type { SpanKind } from "../week/board/paths.ts";

const counted = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

export const weekWords = {
  title: (operation: string) => `The week of ${operation}`,
  noPlan: "There is no plan of this week yet. Ask for one above.",
  board: "The week, day by day and crew by crew",
  boardKeys:
    "Arrow keys go from stop to stop, from crew to crew and to the hours of each day. Enter chooses. M moves a stop, or puts in what is not planned; a mouse drags either.",
  boardKeysReading: "Arrow keys go from stop to stop, from crew to crew and to the hours of each day. Enter chooses.",

  calmOf: (day: string) => `Hours of ${day}`,
  calmPeak: (area: string) => `most open ${area}`,
  calmReading: "Working out the calm hours.",
  hourName: (clock: string, open: string, able: string) => `${clock}: ${open} of ${able} open`,
  hourTitle: (from: string, to: string) => `${from} to ${to}`,
  hourOpen: (open: string, able: string) => `${open} of ${able} may be worked.`,
  hourCloses: "What closes the most, with the largest order as an example:",
  hourClosed: (area: string, sentence: string) => `${area}: ${sentence}`,
  hourAll: "Nothing closes this hour for any order.",

  daySummary: (crews: number, area: string) =>
    crews === 0 ? "nobody out" : `${counted(crews, "crew", "crews")} out, ${area}`,
  sun: (up: string, down: string) => `Sun ${up} to ${down}`,
  off: (names: string) => `Off: ${names}`,
  idle: "stays at home",
  crewDayName: (crew: string, day: string, stops: number, area: string) =>
    `${crew}, ${day}: ${counted(stops, "stop", "stops")}, ${area}`,
  stopsOf: (crew: string, day: string) => `Stops of ${crew} on ${day}`,
  stopName: ({
    area,
    field,
    from,
    lock,
    number,
    part,
    priority,
    to,
    work,
  }: {
    readonly number: number;
    readonly field: string;
    readonly part: string;
    readonly from: string;
    readonly to: string;
    readonly area: string;
    readonly work: string;
    readonly priority: string;
    readonly lock: string;
  }) => [`${number} ${field}${part}`, `${from} to ${to}`, area, work, priority, lock].filter(Boolean).join(", "),
  part: (part: number, parts: number) => (parts > 1 ? `, part ${part} of ${parts}` : ""),
  methods: { liquid: "spraying", granular: "spreading" },
  priorities: { low: "low priority", normal: "", high: "high priority", mandatory: "must be done" },
  prioritySigns: { low: "", normal: "", high: "!", mandatory: "!!" },

  lockedShort: { asItStands: "locked", stops: "stops locked", outfit: "outfit locked" } satisfies Record<
    LockKind,
    string
  >,
  lockedStop: "locked",
  earlierHours: "Earlier hours",
  laterHours: "Later hours",

  legend: "What the board shows",
  legendLock: "locked: stays when the week is planned again",
  legendTide: "the higher, the more may be worked in that hour",
  legendNight: "night",
  legendOrder: "the chosen order may be worked",
  legendPriority: "! high priority, !! must be done",
  spans: {
    drive: "drive",
    setup: "set up",
    packup: "pack up",
    refill: "fetch water",
    cleanOut: "clean out",
    methodChange: "change between liquid and granules",
    wait: "wait",
  } satisfies Record<SpanKind, string>,
  pause: "pause until the hour opens again",

  limits: {
    buffers: "Buffers",
    label: "Label",
    seasonMax: "Most in a season",
    method: "Liquid or granules",
    releaseHeight: "Release height",
    droplet: "Droplets",
    slope: "Slope",
    rate: "Rate",
    dates: "The order's dates",
    closed: "Field closed",
    entry: "People in the field",
    rei: "Re-entry",
    phi: "Harvest",
    retreatment: "Treated lately",
    daylight: "Daylight",
    noForecast: "No forecast",
    rain: "Rain",
    rainfast: "Rain too soon after",
    wet: "Wet ground",
    wind: "Wind",
    windLow: "Too little wind",
    gust: "Gusts",
    deltaT: "Delta T",
    temperature: "Temperature",
    humidity: "Humidity",
    inversion: "Inversion",
    bloom: "Bloom",
    drift: "Drift",
    driftNear: "Drift near neighbours",
  } satisfies Record<LimitName, string>,
} as const;
