import type { CrewSheet, SheetStop } from "./crewSheet.ts";
import type { LocalTime } from "./localTime.ts";
import type { Load } from "./mix.ts";
import type { SiteLimits } from "./siteLimits.ts";
import { textTable, wrapped } from "./textTable.ts";
import { partWords } from "./timeline.ts";
import type { WeekView } from "./weekView.ts";
import { counted, hectares, hoursAndMinutes, inversionWords, methodVerb, moneyWords, readable } from "./words.ts";

/** The week for a terminal: what each crew does on each day, what is not planned and why, what it costs. */
export function weekText(view: WeekView): string {
  const percent = (view.servedFrac * 100).toFixed(1);
  const lines = [
    `${view.operationName}, ${view.days[0]!.date} to ${view.days.at(-1)!.date}, times in ${view.timeZone}`,
    `Planned ${hectares(view.servedHa)} of ${hectares(view.orderedHa)} ha (${percent} %), ${counted(view.conflicts.length, "conflict", "conflicts")}, ${readable(view.roadKm)} km, ${hoursAndMinutes(view.dutyMin)} of duty`,
    checkLine(view.check),
    ...view.check.breaches.flatMap(({ rule, sentence }) => wrapped(`${rule}: ${sentence}`, 2)),
  ];
  for (const [day, { date, weekday, sunrise, sunset, clockShiftMin }] of view.days.entries()) {
    const sun = sunrise === null || sunset === null ? "" : `, sun ${sunrise.clock} to ${sunset.clock}`;
    lines.push("", `${weekday} ${date}${sun}${clockShiftWords(clockShiftMin)}`);
    for (const crew of view.crews) {
      const { crewDay, shift } = crew.days[day]!;
      if (crewDay === null) {
        lines.push(`  ${crew.name}: ${shift === null ? "off" : "not needed"}`);
        continue;
      }
      const { leave, back, roadKm, areaHa, outfit, stops } = crewDay;
      lines.push(
        ...wrapped(
          `${crew.name}: ${clockOn(leave, date)} to ${clockOn(back, date)}, ${hectares(areaHa)} ha, ${readable(roadKm)} km. ${outfit}`,
          2,
        ),
        ...textTable(
          stops.map((stop) => [
            `${clockOn(stop.start, date)}-${clockOn(stop.end, date)}`,
            `${stop.orderId}${partWords(stop)}`,
            stop.fieldName,
            methodVerb[stop.method].toLowerCase(),
            hectares(stop.areaHa),
            "ha",
            stop.products.join(" + "),
          ]),
          { indent: 4, right: [4] },
        ),
      );
    }
  }
  if (view.conflicts.length > 0) {
    lines.push("", "Not planned");
    lines.push(
      ...textTable(
        view.conflictsByKind.map(({ words, count, areaHa }) => [String(count), words, hectares(areaHa), "ha"]),
        { indent: 2, right: [0, 2] },
      ),
      "",
    );
    for (const { orderId, fieldName, areaHa, kindWords, sentence } of view.conflicts) {
      const area = areaHa > 0 ? `, ${hectares(areaHa)} ha` : "";
      lines.push(`  ${orderId} ${fieldName}${area}: ${kindWords}`, ...wrapped(sentence, 4));
    }
  }
  lines.push(
    "",
    `Cost of the plan, ${view.currency}`,
    ...textTable(
      [
        ...view.score.parts.map(({ words, cents }) => [words, moneyWords(cents)]),
        ["in all", moneyWords(view.score.totalCents)],
      ],
      { indent: 2, right: [1] },
    ),
    "",
    ...wrapped(view.caution, 0),
  );
  return `${lines.join("\n")}\n`;
}

function checkLine({ ok, rules, checks, breaches }: WeekView["check"]): string {
  const judged = `${counted(rules, "rule", "rules")} checked ${checks} times`;
  return ok ? `Checker: no breach, ${judged}` : `Checker: ${counted(breaches.length, "BREACH", "BREACHES")}, ${judged}`;
}

function clockShiftWords(shiftMin: number): string {
  if (shiftMin === 0) return "";
  return `, the clocks go ${shiftMin > 0 ? "forward" : "back"} ${Math.abs(shiftMin)} min`;
}

/** The clock, with the date before it when it is not the day that is being read. */
function clockOn(time: LocalTime, date: string): string {
  return time.date === date ? time.clock : `${time.date} ${time.clock}`;
}

/** A crew lead's day for a terminal or a sheet of paper. */
export function crewSheetText(sheet: CrewSheet): string {
  const { date, totals, outfit } = sheet;
  const lines = [
    `${sheet.crewName}, ${sheet.weekday} ${date}${clockShiftWords(sheet.clockShiftMin)}`,
    `Leave ${sheet.base} by ${clockOn(sheet.leaveBy, date)}, back ${clockOn(sheet.backAt, date)} (${sheet.timeZone})`,
    ...textTable(
      [
        [
          "People",
          sheet.people.map(({ name, licenceClasses }) => withNote(name, licenceClasses.join(", "))).join("; "),
        ],
        ["Aircraft", outfit.aircraft.join("; ")],
        ...(outfit.batteries.length > 0 ? [["Batteries", outfit.batteries.join("; ")]] : []),
        ...(outfit.chargers.length > 0 ? [["Chargers", outfit.chargers.join("; ")]] : []),
        ["Tender", outfit.tender],
      ],
      { indent: 0, right: [] },
    ),
    "",
    "The day",
    ...textTable(
      sheet.timeline.map((row) => [
        clockOn(row.start, date),
        clockOn(row.end, date),
        `${row.minutes} min`,
        row.words,
        row.details.join(", "),
      ]),
      { indent: 2, right: [2] },
    ),
  ];
  for (const stop of sheet.stops) lines.push("", ...stopLines(stop, date));
  lines.push(
    "",
    "For the day",
    ...textTable(
      [
        ["Duty", `${hoursAndMinutes(totals.dutyMin)}, of it ${hoursAndMinutes(totals.workMin)} at work`],
        ["Area", `${hectares(totals.areaHa)} ha in ${counted(totals.loads, "load", "loads")}`],
        ["Road", `${readable(totals.roadKm)} km`],
        ["Water", `${readable(totals.carrierL)} L in mixes, ${readable(totals.cleanOutL)} L to clean out`],
        ...totals.products.map((part) => [part.name, `${readable(part.amount)} ${part.unit}`]),
      ],
      { indent: 2, right: [] },
    ),
    "",
    ...wrapped(sheet.caution, 0),
  );
  return `${lines.join("\n")}\n`;
}

function stopLines(stop: SheetStop, date: string): string[] {
  const { mix, workedAgain } = stop;
  const unit = mix.whole.unit;
  return [
    ...wrapped(
      `Stop ${stop.number}: ${stop.fieldName}, ${stop.grower}, ${stop.crop}. Order ${stop.orderId}${partWords(stop)}, ${clockOn(stop.start, date)} to ${clockOn(stop.end, date)}`,
      0,
    ),
    ...textTable(
      [
        [
          methodVerb[stop.method],
          `${hectares(stop.areaHa)} ha at ${readable(stop.ratePerHa)} ${unit}/ha: ${readable(mix.whole.size)} ${unit} in all`,
        ],
        [
          "Fly",
          `${counted(stop.passes, "pass", "passes")} along ${Math.round(stop.headingDeg)} degrees at ${readable(stop.speedMps)} m/s`,
        ],
        ["Pad", `${stop.padId} at ${stop.padLatDeg.toFixed(5)}, ${stop.padLonDeg.toFixed(5)}`],
        ...(stop.notes === "" ? [] : [["Notes", stop.notes]]),
      ],
      { indent: 2, right: [] },
    ),
    ...mixLines(stop),
    ...limitLines(stop.siteLimits),
    ...textTable(
      [
        ["Re-entry from", `${stop.reentryFrom.date} ${stop.reentryFrom.clock}`],
        ["Harvest from", stop.harvestFrom],
        ...(workedAgain === null
          ? []
          : [["Worked again", `${workedAgain.date} ${workedAgain.clock}: both run anew from then`]]),
      ],
      { indent: 2, right: [] },
    ),
    ...neighbourLines(stop),
  ];
}

function mixLines({ mix }: SheetStop): string[] {
  const columns: { title: string; load: Load }[] = [
    ...(mix.full.loads > 0 ? [{ title: `${mix.full.loads} × full load`, load: mix.full }] : []),
    ...(mix.last === null ? [] : [{ title: "last load", load: mix.last }]),
    { title: "in all", load: mix.whole },
  ];
  const { unit, parts } = mix.whole;
  const row = (name: string, amountOf: (load: Load) => number) => [
    name,
    ...columns.map(({ load }) => `${readable(amountOf(load))} ${unit}`),
  ];
  return textTable(
    [
      ["Mix", ...columns.map(({ title }) => title)],
      ...(unit === "L" ? [row("water", (load) => load.carrierL)] : []),
      ...parts.map((part, position) =>
        row(`${part.name} (${part.registrationNumber})`, (load) => load.parts[position]!.amount),
      ),
      row("makes", (load) => load.size),
    ],
    { indent: 2, right: columns.map((_, column) => column + 1) },
  );
}

function limitLines(limits: SiteLimits): string[] {
  const rows = limits.limits.map(({ measure, bound, value, unit, setBy }) => [
    `${measure}, at ${bound}`,
    `${readable(value)} ${unit}`,
    setBy,
  ]);
  if (limits.dropletClasses.length > 0)
    rows.push(["droplets", limits.dropletClasses.join(" "), "order, label, aircraft"]);
  if (limits.rainfastHours > 0) rows.push(["no rain after", `${readable(limits.rainfastHours)} h`, "label"]);
  if (limits.inversion !== "ignore") rows.push(["inversion", inversionWords[limits.inversion], "label"]);
  return ["  Measure on site, stop outside", ...textTable(rows, { indent: 4, right: [] })];
}

function neighbourLines({ neighbours }: SheetStop): string[] {
  if (neighbours.length === 0) return ["  Nothing sensitive near"];
  return [
    "  Near the field",
    ...textTable(
      neighbours.map(({ name, kind, distanceM, direction, bufferWords }) => [
        `${name} (${kind})`,
        `${Math.round(distanceM)} m`,
        direction,
        bufferWords,
      ]),
      { indent: 4, right: [1] },
    ),
  ];
}

function withNote(text: string, note: string): string {
  return note === "" ? text : `${text} (${note})`;
}
