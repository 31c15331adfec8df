import { deltaTC, saturationVapourPressurePa, wetBulbC } from "../../shared/agronomy/air.ts";
import { deltaTBandOf } from "../../shared/agronomy/deltaTBand.ts";
import { type HarvestAndEntry, harvestAndEntry } from "../../shared/agronomy/harvestAndEntry.ts";
import { exactSunDay } from "../../shared/agronomy/sun.ts";
import { windAtHeightKph } from "../../shared/agronomy/windProfile.ts";
import { type Calendar, createCalendar, minutesPerHour } from "../../shared/model/calendar.ts";
import { answersOf, type Situation } from "../shared/agronomy/oneOrder.ts";
import { publishedWork } from "./publishedWork.ts";

/** A value from outside, beside what the product's own functions give. */
export interface PublishedValue {
  readonly part: "Air" | "Sun" | "Intervals" | "Work";
  readonly name: string;
  readonly expected: number | string;
  readonly got: () => number | string;
  /** Greatest difference allowed; texts must be equal. */
  readonly tolerance: number;
  readonly unit: string;
  readonly source: string;
}

export function isWithin({ expected, got, tolerance }: PublishedValue): boolean {
  const value = got();
  if (typeof expected === "string" || typeof value === "string") return value === expected;
  return Math.abs(value - expected) <= tolerance;
}

const seaLevelPa = 101_325;
const psychrolib = "psychrolib 1.1.1 at 101325 Pa (COMPUTED)";
const guidance = "Bureau of Meteorology guidance, quoted in extension texts";
const signs = "GRDC spray manual module 10 (2025); IREC Farmers' Newsletter 197 (2017)";

const air: PublishedValue[] = [
  {
    part: "Air",
    name: "wet bulb at 15 C with dew point 4 C, 1000 hPa",
    expected: 9.3,
    // Read off a chart there, to the tenth; the equations give 9.37.
    tolerance: 0.1,
    got: () => wetBulbC(15, (100 * saturationVapourPressurePa(4)) / saturationVapourPressurePa(15), 100_000),
    unit: "C",
    source: "Wallace & Hobbs 1977, p. 106",
  },
  {
    part: "Air",
    name: "wet bulb at 40 C, 50 %, 1000 hPa",
    expected: 30.45,
    // That program follows the saturated adiabat (Stipanuk 1973), ours the psychrometer, as psychrolib: 30.28.
    tolerance: 0.2,
    got: () => wetBulbC(40, 50, 100_000),
    unit: "C",
    source: "NCAR Command Language, wetbulb examples",
  },
  {
    part: "Air",
    name: "wet bulb at 20 C, 50 % against a fit",
    expected: 13.699,
    // The fit's own stated error is -1 to +0.65.
    tolerance: 0.65,
    got: () => wetBulbC(20, 50, seaLevelPa),
    unit: "C",
    source: "Stull 2011, J. Appl. Meteor. Climatol. 50, 2267",
  },
  ...(
    [
      [20, 50, 6.22],
      [30, 30, 12.03],
      [10, 90, 0.84],
    ] as const
  ).map(
    ([temperatureC, humidityPct, expected]): PublishedValue => ({
      part: "Air",
      name: `Delta T at ${temperatureC} C, ${humidityPct} %`,
      expected,
      tolerance: 0.005,
      got: () => deltaTC(temperatureC, humidityPct, seaLevelPa),
      unit: "C",
      source: psychrolib,
    }),
  ),
  ...(
    [
      [1.9, "cautionLow"],
      [2, "preferred"],
      [8, "preferred"],
      [10.1, "avoid"],
    ] as const
  ).map(
    ([valueC, expected]): PublishedValue => ({
      part: "Air",
      name: `band of Delta T ${valueC} C`,
      expected,
      tolerance: 0,
      got: () => deltaTBandOf(valueC),
      unit: "",
      source: guidance,
    }),
  ),
  {
    part: "Air",
    name: "wind of 3.2 m/s at 10 m, brought to 2 m",
    expected: 2.39,
    tolerance: 0.005,
    got: () => windAtHeightKph(3.2, 10, 2),
    unit: "m/s",
    source: "FAO Irrigation and Drainage Paper 56, eq. 47, example 14",
  },
  {
    part: "Air",
    name: "inversion likely in clear still air from so long before sunset",
    expected: 90,
    // One to two hours.
    tolerance: 30,
    got: () => inversionEdgesMin().beforeSunsetMin,
    unit: "min",
    source: signs,
  },
  {
    part: "Air",
    name: "inversion likely in clear still air until so long after sunrise",
    expected: 60,
    // "About 1 h".
    tolerance: 15,
    got: () => inversionEdgesMin().afterSunriseMin,
    unit: "min",
    source: signs,
  },
  ...(
    [
      ["overcast", { cloudPct: 100 }],
      ["raining", { rainMm: 1 }],
      ["in wind above 11 km/h all night", { windKph: 12 }],
    ] as const
  ).map(
    ([name, weather]): PublishedValue => ({
      part: "Air",
      name: `inversion likely when ${name}`,
      expected: 0,
      tolerance: 0,
      got: () =>
        answersOf({
          days: 2,
          limits: { windAt: "asMeasured" },
          labels: [{ inversionRule: "notWhenLikely" }],
          airOfHour: () => ({ windKph: 5, cloudPct: 10, ...weather }),
        }).lostMin.inversion ?? 0,
      unit: "min",
      source: signs,
    }),
  ),
];

/** When likely inversions begin and end, in a week of clear still air. */
function inversionEdgesMin(): { readonly beforeSunsetMin: number; readonly afterSunriseMin: number } {
  const { agronomy, order, helicopter } = answersOf({
    days: 2,
    labels: [{ inversionRule: "notWhenLikely" }],
    airOfHour: () => ({ windKph: 5, cloudPct: 10 }),
  });
  const [firstDay] = agronomy.windows(order, helicopter, { night: true }).windows;
  const { horizon } = agronomy.sunOf(order.fieldId, 0);
  if (firstDay === undefined || horizon.kind !== "crosses") throw new Error("the day has a sun and a window");
  return {
    beforeSunsetMin: horizon.downMin - firstDay.endMin,
    afterSunriseMin: firstDay.startMin - horizon.upMin,
  };
}

const sun: PublishedValue[] = (
  [
    ["2023-01-01", "07:43", "17:24"],
    ["2023-04-15", "05:56", "19:05"],
    ["2023-06-21", "05:11", "19:53"],
    ["2023-12-21", "07:39", "17:17"],
  ] as const
).flatMap(([date, rise, set]) =>
  (
    [
      ["sunrise", rise, "upMin"],
      ["sunset", set, "downMin"],
    ] as const
  ).map(
    ([name, expected, end]): PublishedValue => ({
      part: "Sun",
      name: `${name} on ${date} at 36 57' N 112 31' W`,
      expected,
      tolerance: 0,
      got: () => {
        const calendar = createCalendar({ timeZone: "America/Phoenix", firstDay: date, days: 1 });
        const { horizon } = exactSunDay(calendar, date, 36.95, -112 - 31 / 60);
        // The table rounds to the nearest minute.
        return horizon.kind === "crosses" ? calendar.clockOfMin(Math.round(horizon[end])) : horizon.kind;
      },
      unit: "",
      source: "US Naval Observatory, table for 2023, UTC-7",
    }),
  ),
);

function afterWork(
  ended: string,
  labels: { readonly phiDays: readonly number[]; readonly reiHours: readonly number[] },
) {
  const calendar = createCalendar({ timeZone: "Etc/GMT+8", firstDay: ended.slice(0, 10), days: 1 });
  const endMin = calendar.minOfLocal(ended);
  return { calendar, endMin, ...harvestAndEntry(calendar, endMin, labels) };
}

function localTime(calendar: Calendar, min: number): string {
  return `${calendar.dateOfMin(min)} ${calendar.clockOfMin(min)}`;
}

function harvestHours(labels: Parameters<typeof afterWork>[1]): number {
  // From noon, so that whole days of the pre-harvest interval and hours of the other do not end together by chance.
  const { harvestMin, endMin } = afterWork("2027-06-08T12:00", labels);
  return (harvestMin - endMin) / minutesPerHour;
}

const rulesOf = ({ ruledBy }: Pick<HarvestAndEntry, "ruledBy">) => ruledBy;
const mancozeb = { seasonMaxCount: 4, retreatmentDays: 7, phiDays: 77 };
const applied = (date: string) => ({ productId: "P1", endedAt: `${date}T18:00`, ratePerHa: 1 });
const mancozebAfter = (...dates: readonly string[]): Situation => ({
  labels: [{ use: mancozeb }],
  field: { pastApplications: dates.map(applied) },
});
const citrusSource = "UC IPM citrus 2017 (interval READ, time COMPUTED)";

const intervals: PublishedValue[] = [
  {
    part: "Intervals",
    name: "harvest after a last application on 8 June with PHI 7",
    expected: "2027-06-15",
    tolerance: 0,
    got: () => afterWork("2027-06-08T18:00", { phiDays: [7], reiHours: [0] }).harvestDate,
    unit: "",
    source: "extension calendar example",
  },
  {
    part: "Intervals",
    name: "end of the windows before a harvest on 15 June with PHI 7",
    expected: "2027-06-09 00:00",
    tolerance: 0,
    got: () =>
      answersOf({ days: 4, labels: [{ use: { phiDays: 7 } }], field: { harvestDate: "2027-06-15" } }).windows.at(
        -1,
      )![1],
    unit: "",
    source: "extension calendar example",
  },
  {
    part: "Intervals",
    name: "entry after REI 4 d that begin on 3 June 14:30",
    expected: "2027-06-07 14:30",
    tolerance: 0,
    got: () => {
      const { calendar, entryMin } = afterWork("2027-06-03T14:30", { phiDays: [0], reiHours: [96] });
      return localTime(calendar, entryMin);
    },
    unit: "",
    source: "3 CCR 6772: a day is 24 h from the end (COMPUTED)",
  },
  {
    part: "Intervals",
    name: "REI of a mix of 12, 48 and 24 h",
    expected: 48,
    tolerance: 0,
    got: () => afterWork("2027-06-03T14:30", { phiDays: [0], reiHours: [12, 48, 24] }).reiHours,
    unit: "h",
    source: "EPA; WSU extension: the longest rules",
  },
  {
    part: "Intervals",
    name: "harvest after REI 72 h, PHI 48 h",
    expected: 72,
    tolerance: 0,
    got: () => harvestHours({ phiDays: [2], reiHours: [72] }),
    unit: "h",
    source: "WSU extension",
  },
  {
    part: "Intervals",
    name: "methomyl, REI 3 d and PHI 1 d: which rules the harvest",
    expected: "rei",
    tolerance: 0,
    got: () => rulesOf(afterWork("2027-06-08T12:00", { phiDays: [1], reiHours: [72] })),
    unit: "",
    source: "UC IPM citrus 2017",
  },
  ...(
    [
      ["abamectin", 12, 7, "2027-06-15 00:00"],
      ["carbaryl", 12, 5, "2027-06-13 00:00"],
      ["chlorantraniliprole", 4, 1, "2027-06-09 00:00"],
      ["malathion", 72, 7, "2027-06-15 00:00"],
      ["sulfur", 24, 0, "2027-06-09 18:00"],
    ] as const
  ).map(
    ([active, reiHours, phiDays, expected]): PublishedValue => ({
      part: "Intervals",
      name: `harvest after ${active} (REI ${reiHours} h, PHI ${phiDays} d) ends 8 June 18:00`,
      expected,
      tolerance: 0,
      got: () => {
        const { calendar, harvestMin } = afterWork("2027-06-08T18:00", { phiDays: [phiDays], reiHours: [reiHours] });
        return localTime(calendar, harvestMin);
      },
      unit: "",
      source: citrusSource,
    }),
  ),
  ...(
    [
      ["fourth", ["2027-04-01", "2027-04-20", "2027-05-10"], 0],
      ["fifth", ["2027-04-01", "2027-04-20", "2027-05-10", "2027-05-25"], 1],
    ] as const
  ).map(
    ([which, dates, expected]): PublishedValue => ({
      part: "Intervals",
      name: `mancozeb on apple, ${which} application of the year: limits broken`,
      expected,
      tolerance: 0,
      got: () => {
        const { agronomy, order } = answersOf(mancozebAfter(...dates));
        return agronomy.orderLimits(order).length;
      },
      unit: "",
      source: "BC tree fruit guide: at most 4 a year",
    }),
  ),
  {
    part: "Intervals",
    name: "mancozeb again after 1 June",
    expected: "2027-06-08 00:00",
    tolerance: 0,
    got: () => answersOf(mancozebAfter("2027-06-01")).windows[0]![0],
    unit: "",
    source: "BC tree fruit guide: at least 7 d apart",
  },
  {
    part: "Intervals",
    name: "harvest after mancozeb (PHI 77) on 1 June",
    expected: "2027-08-17",
    tolerance: 0,
    got: () => afterWork("2027-06-01T18:00", { phiDays: [mancozeb.phiDays], reiHours: [24] }).harvestDate,
    unit: "",
    source: "BC tree fruit guide: PHI 77 (READ, date COMPUTED)",
  },
];

export const publishedValues: readonly PublishedValue[] = [...air, ...sun, ...intervals, ...publishedWork];
