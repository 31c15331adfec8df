import { type HarvestAndEntry, harvestAndEntry } from "../../../shared/agronomy/harvestAndEntry.ts";
import { dayAndDate } from "../../../shared/agronomy/timeWords.ts";
import { type Calendar, createCalendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import { clockTold, readingsOf, shownTimeWords } from "../../../shared/model/clockReadings.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { counted } from "../../../shared/plan/words.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";

const reiRules = "the re-entry interval (REI)";
const ruleWords: Record<HarvestAndEntry["ruledBy"], string> = {
  phi: "the pre-harvest interval (PHI)",
  rei: `${reiRules}: it ends after the pre-harvest interval (PHI)`,
  none: "none: neither a pre-harvest (PHI) nor a re-entry interval (REI)",
  both: "the pre-harvest (PHI) and the re-entry interval (REI), which end together",
};
const dateLength = "2027-06-08".length;

export interface HarvestOptions {
  readonly ended: string;
  readonly phi: readonly number[];
  readonly rei: readonly number[];
  readonly zone: string;
  readonly json?: boolean;
}

export async function harvestVerb({ ended, phi, rei, zone, json }: HarvestOptions): Promise<number> {
  const partDay = phi.find((days) => !Number.isInteger(days));
  if (partDay !== undefined) throw new BadInput([`--phi: ${partDay}; expected whole days, which labels count by`]);
  const calendar = createCalendar({ timeZone: zone, firstDay: ended.slice(0, dateLength), days: 1 });
  const readings = readingsOf(calendar, ended);
  // Of a time that the clocks show twice the second: people are kept out longer, never shorter.
  const endMin = readings.at(-1);
  if (endMin === undefined) throw new BadInput([`--ended: ${ended}; expected ${shownTimeWords(calendar, ended)}`]);
  const answer = harvestAndEntry(calendar, endMin, { phiDays: phi, reiHours: rei });
  const { phiDays, reiHours, entryMin, harvestMin, harvestDate, ruledBy } = answer;
  if (json) {
    printJson({
      ended: calendar.isoOfMin(endMin),
      timeZone: zone,
      phiDays,
      reiHours,
      entryFrom: calendar.isoOfMin(entryMin),
      harvestFrom: calendar.isoOfMin(harvestMin),
      harvestDate,
      ruledBy,
    });
    return exitCodes.good;
  }
  const twice = readings.length > 1 ? ", the later of the two: people are kept out longer" : "";
  const rows = [
    ["application ended", `${localTime(calendar, endMin)}${twice}`],
    ["entry from", `${localTime(calendar, entryMin)}, re-entry interval (REI) of ${reiHours} h${longest(rei)}`],
    [
      "harvest from",
      `${localTime(calendar, harvestMin)}, ${rulingWords(answer, phi, rei)}${remarkOf(answer, endMin, calendar)}`,
    ],
    ["earliest harvest day", `${harvestDate}, if harvest may begin at midnight, as plans take it`],
    ["ruled by", ruledBy === "rei" && phiDays === 0 ? reiRules : ruleWords[ruledBy]],
  ];
  for (const line of textTable(rows, { indent: 0, right: [] })) print(line);
  print("The label decides; the longest interval of the products in a mix counts.");
  return exitCodes.good;
}

/** Which interval ends last, and so when harvest may begin. */
function rulingWords({ phiDays, reiHours, ruledBy }: HarvestAndEntry, phi: readonly number[], rei: readonly number[]) {
  const phiWords = `pre-harvest interval (PHI) of ${counted(phiDays, "day", "days")}${longest(phi)}`;
  const reiWords = `re-entry interval (REI) of ${reiHours} h${longest(rei)}`;
  if (ruledBy === "none") return "no interval to wait for";
  if (ruledBy === "phi") return phiWords;
  // Nothing to compare with.
  if (phiDays === 0) return reiWords;
  return ruledBy === "rei" ? `${reiWords}, which ends after the ${phiWords}` : `${reiWords} and ${phiWords}`;
}

/** A day of the pre-harvest interval counted by date may be as short as a minute. */
function remarkOf({ phiDays, harvestMin }: HarvestAndEntry, endMin: number, calendar: Calendar): string {
  if (phiDays === 0) return "";
  const endedOn = calendar.dateOfMin(endMin - 1);
  const fromDay =
    endedOn === calendar.dateOfMin(endMin) ? "" : ` from ${dayAndDate(endedOn)}, in whose last minute it ended`;
  const afterMin = harvestMin - endMin;
  const short = `: only ${afterMin} min after the end; the label may count hours`;
  return `, counted by date${fromDay}${afterMin < minutesPerHour ? short : ""}`;
}

function longest(values: readonly number[]): string {
  return values.length > 1 ? ` (the longest of ${values.join(", ")})` : "";
}

function localTime(calendar: Calendar, min: number): string {
  return `${calendar.dateOfMin(min)} ${clockTold(calendar, min)}`;
}
