import { type HarvestAndEntry, harvestAndEntry } from "../../../shared/agronomy/harvestAndEntry.ts";
import { type Calendar, createCalendar } from "../../../shared/model/calendar.ts";
import { textTable } from "../../../shared/plan/textTable.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";

const ruleWords: Record<HarvestAndEntry["ruledBy"], string> = {
  phi: "the pre-harvest interval (PHI)",
  rei: "the re-entry interval (REI): it ends after the pre-harvest interval (PHI)",
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
  const endMin = calendar.minOfLocal(ended);
  if (localTime(calendar, endMin) !== ended.replace("T", " ")) {
    throw new BadInput([
      `--ended: ${ended}; expected a time that the clocks of ${zone} show; they are put forward over it`,
    ]);
  }
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
  const rows = [
    ["application ended", localTime(calendar, endMin)],
    ["entry from", `${localTime(calendar, entryMin)}, ${longest(rei)}${reiHours} h after the end`],
    ["harvest from", `${localTime(calendar, harvestMin)}, ${longest(phi)}PHI of ${phiDays} days counted by date`],
    ["earliest harvest day", `${harvestDate}, if harvest may begin at midnight, as plans take it`],
    ["ruled by", ruleWords[ruledBy]],
  ];
  for (const line of textTable(rows, { indent: 0, right: [] })) print(line);
  print("The label decides; the longest interval of the products in a mix counts.");
  return exitCodes.good;
}

function longest(values: readonly number[]): string {
  return values.length > 1 ? `the longest of ${values.join(", ")}: ` : "";
}

function localTime(calendar: Calendar, min: number): string {
  return `${calendar.dateOfMin(min)} ${calendar.clockOfMin(min)}`;
}
