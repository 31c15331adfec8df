import { exactSunDay, type SunCourse } from "../../../shared/agronomy/sun.ts";
import { hoursAndMinutes } from "../../../shared/agronomy/timeWords.ts";
import { addDays, type Calendar, createCalendar } from "../../../shared/model/calendar.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";

const dayMin = 1440;

export interface SunOptions {
  readonly lat: number;
  readonly lon: number;
  readonly date: string;
  readonly zone: string;
  readonly json?: boolean;
}

export async function sunVerb({ lat, lon, date, zone, json }: SunOptions): Promise<number> {
  const calendar = createCalendar({ timeZone: zone, firstDay: date, days: 1 });
  const { horizon, civil } = exactSunDay(calendar, date, lat, lon);
  const kinds = [-1, 0, 1].map((days) => exactSunDay(calendar, addDays(date, days), lat, lon).horizon.kind);
  const isEdgeOfPolarDay = kinds.includes("above") && kinds.some((kind) => kind !== "above");
  const answer = {
    latDeg: lat,
    lonDeg: lon,
    date,
    timeZone: zone,
    sun: courseFacts(calendar, horizon, "sunrise", "sunset"),
    civilTwilight: courseFacts(calendar, civil, "dawn", "dusk"),
    dayLengthMin: lengthMin(horizon),
    isEdgeOfPolarDay,
  };
  if (json) {
    printJson(answer);
    return exitCodes.good;
  }
  const rows = [
    ["civil dawn", riseWords(calendar, date, civil, "upMin", civilWords)],
    ["sunrise", riseWords(calendar, date, horizon, "upMin", horizonWords)],
    ["sunset", riseWords(calendar, date, horizon, "downMin", horizonWords)],
    ["civil dusk", riseWords(calendar, date, civil, "downMin", civilWords)],
    ["length of the day", hoursAndMinutes(Math.round(answer.dayLengthMin))],
  ];
  print(`${date} at latitude ${lat}, longitude ${lon}, clocks of ${zone}`);
  for (const line of textTable(rows, { indent: 0, right: [] })) print(line);
  print("To the nearest minute, by the sun's upper edge with refraction, over a flat horizon; civil: 6 degrees below.");
  print("Plans count whole minutes inside the day: from the first after sunrise to the last before sunset.");
  if (civil.kind === "above")
    for (const line of noCivilDusk[horizon.kind === "above" ? "above" : "crosses"]) print(line);
  if (isEdgeOfPolarDay) for (const line of edgeLines) print(line);
  return exitCodes.good;
}

/** What plans take where no civil dusk or dawn comes. */
const noCivilDusk = {
  above: ["Plans take all of such a day as day, whatever bounds their flying day."],
  crosses: [
    "For a civil dusk or dawn that does not come plans take the middle between sunset and the next sunrise,",
    "or local midnight where one of these does not come either.",
  ],
};
const edgeLines = [
  "A polar day begins or ends here. The sun is worked out date by date: at such an edge what is said of a",
  "night may be wrong by an hour.",
];

interface NoCrossing {
  readonly above: string;
  readonly below: string;
}
const horizonWords: NoCrossing = {
  above: "none: the sun stays up all day",
  below: "none: the sun stays below the horizon all day",
};
const civilWords: NoCrossing = {
  above: "none: it never gets darker than civil twilight",
  below: "none: it never gets as light as civil twilight",
};

function lengthMin(course: SunCourse): number {
  if (course.kind === "crosses") return course.downMin - course.upMin;
  return course.kind === "above" ? dayMin : 0;
}

function courseFacts(calendar: Calendar, course: SunCourse, up: string, down: string) {
  if (course.kind !== "crosses") return { kind: course.kind };
  return {
    kind: course.kind,
    [up]: calendar.isoOfMin(Math.round(course.upMin)),
    [down]: calendar.isoOfMin(Math.round(course.downMin)),
  };
}

function riseWords(
  calendar: Calendar,
  date: string,
  course: SunCourse,
  end: "upMin" | "downMin",
  words: NoCrossing,
): string {
  if (course.kind !== "crosses") return words[course.kind];
  const min = Math.round(course[end]);
  // Far north the sun may set, or dawn, on the local day beside this one.
  const dateThere = calendar.dateOfMin(min);
  return `${dateThere === date ? "" : `${dateThere} `}${calendar.clockOfMin(min)}`;
}
