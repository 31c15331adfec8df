import { DateTime, IANAZone } from "luxon";
import { addDays, createCalendar, minutesPerHour } from "./calendar.ts";
import { shownTimeWords } from "./clockReadings.ts";
import { nested } from "./crossReferences.ts";
import { type Fault, otherPlaceText } from "./faults.ts";
import type { Located, Parts } from "./parts.ts";
import { localDateSchema, localDateTimeSchema } from "./quantities.ts";
import type { WeatherStep } from "./weather.ts";

interface Span {
  from: string;
  to: string;
}

function pastApplicationsOf(parts: Parts) {
  return nested(parts.fields.entries, ["properties", "pastApplications"], (field) => field.properties.pastApplications);
}

function spansOf(parts: Parts) {
  const fields = parts.fields.entries;
  return {
    closures: nested(fields, ["properties", "closures"], (field) => field.properties.closures),
    entries: nested(fields, ["properties", "entries"], (field) => field.properties.entries),
    blooms: fields.flatMap(({ path, item }) =>
      item.properties.bloom === undefined
        ? []
        : [{ path: [...path, "properties", "bloom"], item: item.properties.bloom }],
    ),
    outages: nested(parts.aircraft.entries, ["outOfService"], (aircraft) => aircraft.outOfService),
  };
}

/** Spans of whole days may be one day long; spans of minutes may not be empty. ISO texts sort as their times do. */
function spanFaults(parts: Parts): Fault[] {
  const { closures, entries, blooms, outages } = spansOf(parts);
  const before = ({ path, item }: Located<Span>): Fault[] =>
    item.from < item.to ? [] : [{ path: [...path, "from"], value: item.from, expected: `a time before ${item.to}` }];
  const notAfter = ({ path, item }: Located<Span>): Fault[] =>
    item.from <= item.to ? [] : [{ path: [...path, "from"], value: item.from, expected: `a day not after ${item.to}` }];
  return [
    ...[...closures, ...entries].flatMap(before),
    ...[...blooms, ...outages].flatMap(notAfter),
    ...parts.orders.entries.flatMap(({ path, item }) =>
      item.earliest < item.latest
        ? []
        : [
            {
              path: [...path, "latest"],
              value: item.latest,
              expected: `a time after earliest, which is ${item.earliest}`,
            },
          ],
    ),
  ];
}

/** The clock jumps over some times; what is planned for one of them would happen at another. */
function skippedTimeFaults(parts: Parts, zone: string): Fault[] {
  const { closures, entries } = spansOf(parts);
  const shifts = nested(parts.crews.entries, ["shifts"], (crew) => crew.shifts);
  // What is no local time at all is named by its schema.
  const issued = localDateTimeSchema.safeParse(parts.forecastIssued);
  const from = localDateTimeSchema.safeParse(parts.planFrom);
  const times: Located<{ local: string; value: string }>[] = [
    ...(from.success ? [{ path: ["settings", "planFrom"], item: { local: from.data, value: from.data } }] : []),
    ...(issued.success
      ? [{ path: ["settings", "forecastIssued"], item: { local: issued.data, value: issued.data } }]
      : []),
    ...[...closures, ...entries].flatMap(({ path, item }) => [
      { path: [...path, "from"], item: { local: item.from, value: item.from } },
      { path: [...path, "to"], item: { local: item.to, value: item.to } },
    ]),
    ...pastApplicationsOf(parts).map(({ path, item }) => ({
      path: [...path, "endedAt"],
      item: { local: item.endedAt, value: item.endedAt },
    })),
    ...parts.orders.entries.flatMap(({ path, item }) => [
      { path: [...path, "earliest"], item: { local: item.earliest, value: item.earliest } },
      { path: [...path, "latest"], item: { local: item.latest, value: item.latest } },
    ]),
    ...nested(parts.locks.entries, ["stops"], (lock) => lock.stops).flatMap(({ path, item: { startAt } }) =>
      startAt === undefined ? [] : [{ path: [...path, "startAt"], item: { local: startAt, value: startAt } }],
    ),
    ...parts.locks.entries.flatMap(({ path, item: { freeFrom } }) =>
      freeFrom === undefined ? [] : [{ path: [...path, "freeFrom"], item: { local: freeFrom, value: freeFrom } }],
    ),
    ...shifts.flatMap(({ path, item: { date, from, to } }) => [
      { path: [...path, "from"], item: { local: `${date}T${from}`, value: from } },
      { path: [...path, "to"], item: { local: `${to > from ? date : addDays(date, 1)}T${to}`, value: to } },
    ]),
  ];
  return times
    .filter(({ item }) => !existsIn(item.local, zone))
    .map(({ path, item }) => ({ path, value: item.value, expected: shownTimeWords({ timeZone: zone }, item.local) }));
}

/** Our choice: a day's slack, since work may be written down after the forecast came and before the plan is made. */
const recordedLaterHours = 24;

/** What is said to have been done long after the plan was made has not been done. */
function notYetDoneFaults(parts: Parts, zone: string): Fault[] {
  const firstDay = localDateSchema.safeParse(parts.firstDay);
  const issued = localDateTimeSchema.optional().safeParse(parts.forecastIssued);
  const from = localDateTimeSchema.optional().safeParse(parts.planFrom);
  if (!firstDay.success || !issued.success || !from.success) return [];
  const calendar = createCalendar({ timeZone: zone, firstDay: firstDay.data, days: 1 });
  const minOf = (local: string | undefined) => (local === undefined ? 0 : calendar.minOfLocal(local));
  const known = [
    { min: 0, words: "the first day begins" },
    { min: minOf(issued.data), words: "the forecast was issued" },
    { min: minOf(from.data), words: "the plan is made anew" },
  ].reduce((latest, one) => (one.min > latest.min ? one : latest));
  const latestMin = known.min + recordedLaterHours * minutesPerHour;
  const latest = calendar.isoOfMin(latestMin).slice(0, "2027-06-07T05:30".length);
  return pastApplicationsOf(parts)
    .filter(({ item }) => calendar.minOfLocal(item.endedAt) > latestMin)
    .map(({ path, item }) => ({
      path: [...path, "endedAt"],
      value: item.endedAt,
      expected: `a time in the past, not after ${latest}, which is ${recordedLaterHours} h after ${known.words}`,
    }));
}

function existsIn(localDateTime: string, zone: string): boolean {
  const at = DateTime.fromISO(localDateTime, { zone });
  return at.hour * 60 + at.minute === Number(localDateTime.slice(11, 13)) * 60 + Number(localDateTime.slice(14, 16));
}

function weatherFaults(parts: Parts): Fault[] {
  const steps = parts.weather.entries;
  if (parts.weather.isThere && parts.weather.size === 0) {
    return [{ path: ["weather"], value: [], expected: "at least one step; without a forecast no hour can be used" }];
  }
  const byStation = new Map<string, Located<WeatherStep>[]>();
  for (const step of steps) {
    const others = byStation.get(step.item.stationId);
    if (others === undefined) byStation.set(step.item.stationId, [step]);
    else others.push(step);
  }
  const offMinute = steps.filter(({ item }) => DateTime.fromISO(item.start).toMillis() % 60_000 !== 0);
  return [
    ...offMinute.map(({ path, item }) => ({
      path: [...path, "start"],
      value: item.start,
      expected: "an instant on a whole minute",
    })),
    ...[...byStation.values()].flatMap((ofStation) => [...movedFaults(ofStation), ...overlapFaults(ofStation)]),
  ];
}

function movedFaults(steps: readonly Located<WeatherStep>[]): Fault[] {
  const first = steps[0]!;
  return (["latDeg", "lonDeg"] as const).flatMap((key) =>
    steps
      .filter(({ item }) => item[key] !== first.item[key])
      .map(({ path, item }) => ({
        path: [...path, key],
        value: item[key],
        expected: `${first.item[key]}, where station ${item.stationId} is in ${otherPlaceText(first.path)}`,
      })),
  );
}

function overlapFaults(steps: readonly Located<WeatherStep>[]): Fault[] {
  const startMs = ({ item }: Located<WeatherStep>) => DateTime.fromISO(item.start).toMillis();
  const inOrder = steps.map((step) => ({ step, startMs: startMs(step) })).sort((a, b) => a.startMs - b.startMs);
  return inOrder.slice(1).flatMap((later, at) => {
    const earlier = inOrder[at]!;
    const { stepMin } = earlier.step.item;
    if (later.startMs >= earlier.startMs + stepMin * 60_000) return [];
    return [
      {
        path: [...later.step.path, "start"],
        value: later.step.item.start,
        expected: `a time at which the step of ${stepMin} min from ${earlier.step.item.start} (${otherPlaceText(earlier.step.path)}) has ended`,
      },
    ];
  });
}

/** A plan is made anew while its days last, and what crews have worked before lies before them. */
function begunFaults(parts: Parts): Fault[] {
  const firstDay = localDateSchema.safeParse(parts.firstDay);
  const from = localDateTimeSchema.safeParse(parts.planFrom);
  if (!firstDay.success) return [];
  const early =
    from.success && from.data < `${firstDay.data}T00:00`
      ? [
          {
            path: ["settings", "planFrom"],
            value: from.data,
            expected: `a time from the first day on, which is ${firstDay.data}`,
          },
        ]
      : [];
  const worked = nested(parts.crews.entries, ["dutyBefore"], (crew) => crew.dutyBefore ?? []);
  return [
    ...early,
    ...worked
      .filter(({ item }) => item.date >= firstDay.data)
      .map(({ path, item }) => ({
        path: [...path, "date"],
        value: item.date,
        expected: `a day before the first, which is ${firstDay.data}`,
      })),
  ];
}

/** Times that do not exist or run backwards, and weather steps that get in each other's way. */
export function timeFaults(parts: Parts): Fault[] {
  const zone = parts.timeZone;
  const faults = [...spanFaults(parts), ...begunFaults(parts), ...weatherFaults(parts)];
  if (typeof zone !== "string" || zone === "") return faults;
  if (IANAZone.isValidZone(zone)) {
    return [...skippedTimeFaults(parts, zone), ...notYetDoneFaults(parts, zone), ...faults];
  }
  const expected = "the name of an IANA time zone, as Australia/Adelaide";
  return [{ path: ["settings", "timeZone"], value: zone, expected }, ...faults];
}
