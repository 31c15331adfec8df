import { hoursAndMinutes } from "../agronomy/timeWords.ts";
import { dateWords, weekdayOf } from "../model/dateWords.ts";
import type { ChangeView, StopTime } from "./changeView.ts";
import type { CrewSheet, SheetStop } from "./crewSheet.ts";
import { hazardCaution, hazardRows } from "./hazardWords.ts";
import { limitHeads, limitRows, limitsTitle } from "./limitRows.ts";
import { endOf, partWords, type Run, runsOf } from "./runs.ts";
import {
  backWords,
  clockOn,
  clockShiftWords,
  dayFacts,
  loadHeads,
  loadRows,
  neighbourRows,
  partHeads,
  partRows,
  productHeads,
  productRows,
  runFacts,
  runTitle,
  takeAlongHeads,
  takeAlongRows,
  takeAlongTitle,
} from "./sheetWords.ts";
import { textTable, wrapped } from "./textTable.ts";
import { sumOf } from "./totals.ts";
import type { StopView } from "./weekOrders.ts";
import type { WeekView } from "./weekView.ts";
import { counted, hectares, kilometres, methodVerb, moneyWords } from "./words.ts";

/** The week for a terminal: what each crew does on each day, what is not planned and why, what it costs. */
export function weekText(view: WeekView): string {
  const percent = (view.servedFrac * 100).toFixed(1);
  const lines = [
    `${view.operationName}, ${view.days[0]!.date} to ${view.days.at(-1)!.date}, times in ${view.timeZone}`,
    `Planned ${hectares(view.servedHa)} of ${hectares(view.orderedHa)} ha (${percent} %), ${counted(view.conflicts.length, "conflict", "conflicts")}, ${kilometres(view.roadKm)} km, ${hoursAndMinutes(view.dutyMin)} of duty`,
    checkLine(view.check),
    ...view.check.breaches.flatMap(({ rule, sentence }) => wrapped(`${rule}: ${sentence}`, 2)),
  ];
  for (const [day, { date, weekday, sunrise, sunset, clockShiftMin }] of view.days.entries()) {
    const sun = sunrise === null || sunset === null ? "" : `, sun ${sunrise.clock} to ${sunset.clock}`;
    const shift = clockShiftWords(clockShiftMin);
    lines.push("", `${weekday} ${date}${sun}${shift === "" ? "" : `, ${shift}`}`);
    for (const crew of view.crews) {
      const { crewDay, shift } = crew.days[day]!;
      if (crewDay === null) {
        lines.push(`  ${crew.name}: ${shift === null ? "off" : "not needed"}`);
        continue;
      }
      const { leave, back, roadKm, areaHa, outfit, sleepsAt, stops } = crewDay;
      const night = sleepsAt === null ? "" : `, sleeps at ${sleepsAt}`;
      lines.push(
        ...wrapped(
          `${crew.name}: ${clockOn(leave, date)} to ${clockOn(back, date)}, ${hectares(areaHa)} ha, ${kilometres(roadKm)} km${night}. ${outfit}`,
          2,
        ),
        ...textTable(
          runsOf(stops).flatMap((run) => [
            [
              `${clockOn(run[0].start, date)}-${clockOn(endOf(run), date)}`,
              `${run[0].orderId}${partWords(run)}`,
              run[0].fieldName,
              methodVerb[run[0].method].toLowerCase(),
              hectares(sumOf(run, (stop) => stop.areaHa)),
              "ha",
              [run[0].products.join(" + "), ...(run[0].aircraft === "" ? [] : [run[0].aircraft])].join(", "),
            ],
            ...pauseRows(run, date),
          ]),
          { indent: 4, right: [4] },
        ),
      );
    }
  }
  if (view.changes.length > 0) {
    lines.push("", "Otherwise than published");
    for (const change of view.changes) {
      lines.push(`  ${change.blockId} ${change.fieldName}`, ...wrapped(changeWords(change), 4));
    }
  }
  if (view.brokenLocks.length > 0) {
    lines.push("", "Locked, and cannot hold");
    for (const { crewName, date, what, sentence } of view.brokenLocks)
      lines.push(`  ${crewName}, ${dateWords(date)}: ${what}`, ...wrapped(sentence, 4));
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
    ...wrapped(view.proof, 0),
    "",
    ...wrapped(view.caution, 0),
  );
  return `${lines.join("\n")}\n`;
}

function changeWords({ before, now, kind }: ChangeView): string {
  const then = `${before.crewName}, ${stopTimeWords(before)}`;
  if (now === null) return `left out now, was ${then}`;
  const next = kind === "start" ? clockOn(now.start, now.date) : `${now.crewName}, ${stopTimeWords(now)}`;
  return `${next}, was ${then}`;
}

function stopTimeWords({ date, start }: StopTime): string {
  return `${weekdayOf(date)} ${date} ${clockOn(start, date)}`;
}

/** Under the run that they are a part of: when and, under its products, why. */
function pauseRows(run: Run<StopView>, date: string): string[][] {
  return run.flatMap(({ pauses }) =>
    pauses.map(({ because, end, start }) => [
      `${clockOn(start, date)}-${clockOn(end, date)}`,
      "pause",
      ...["", "", "", ""],
      because.join("; "),
    ]),
  );
}

function checkLine({ ok, rules, checks, breaches }: WeekView["check"]): string {
  const judged = `${counted(rules, "rule", "rules")} checked ${checks} times`;
  return ok ? `Checker: no breach, ${judged}` : `Checker: ${counted(breaches.length, "BREACH", "BREACHES")}, ${judged}`;
}

/** A crew lead's day for a terminal or a sheet of paper. */
export function crewSheetText(sheet: CrewSheet): string {
  const { base, crewName, date, leaveBy, timeZone } = sheet;
  const shift = clockShiftWords(sheet.clockShiftMin);
  const lines = [
    `${crewName}, ${dateWords(date)}${shift === "" ? "" : `, ${shift}`}`,
    `Leave ${base} by ${clockOn(leaveBy, date)}, ${backWords(sheet)} (${timeZone})`,
    "",
    ...wrapped(sheet.caution, 0),
    "",
    ...textTable(dayFacts(sheet), { indent: 0, right: [] }),
    "",
    takeAlongTitle,
    ...textTable([takeAlongHeads, ...takeAlongRows(sheet)], { indent: 2, right: [1] }),
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
    ...runsOf(sheet.stops).flatMap((run) => ["", ...runLines(run, date)]),
  ];
  return `${lines.join("\n")}\n`;
}

function runLines(run: Run<SheetStop>, date: string): string[] {
  const [first] = run;
  const hazards = hazardRows(first);
  const neighbours = neighbourRows(first);
  const parts = partRows(run, date);
  const leftLoadColumns = run.length === 1 ? 1 : 2;
  const rightLoadColumns = loadHeads(run).flatMap((_, column) => (column < leftLoadColumns ? [] : [column]));
  return [
    `${runTitle(run)}: ${first.fieldName}, ${clockOn(first.start, date)} to ${clockOn(endOf(run), date)}`,
    ...wrapped(`Hazards: ${hazardCaution(first, date)}`, 2),
    ...textTable(hazards, { indent: 4, right: [] }),
    ...textTable(runFacts(run, date), { indent: 2, right: [] }),
    "",
    ...(parts.length === 0 ? [] : [...textTable([partHeads(), ...parts], { indent: 2, right: [3] }), ""]),
    ...textTable([productHeads(), ...productRows(run)], { indent: 2, right: [1, 2] }),
    ...textTable([loadHeads(run), ...loadRows(run)], { indent: 2, right: rightLoadColumns }),
    "",
    `  ${limitsTitle}`,
    ...textTable([limitHeads, ...limitRows(first)], { indent: 4, right: [] }),
    neighbours.length === 0 ? "  Nothing sensitive near" : "  Near the field",
    ...textTable(neighbours, { indent: 4, right: [] }),
  ];
}
