import { shortDayWords } from "../kit/dates.ts";

export const fleetWords = {
  parts: "Parts of the fleet room",
  settings: "Settings",
  settingsText:
    "What holds for the whole operation: time, money, limits beside the labels, and how plans weigh things.",
  outNow: "Out of service",
  out: (from: string, to: string) =>
    from === to ? `Out on ${shortDayWords(from)}` : `Out from ${shortDayWords(from)} to ${shortDayWords(to)}`,
  outSummary: (count: number) =>
    count === 0
      ? "No aircraft is out of service on the days of the plan."
      : count === 1
        ? "One aircraft is out of service on days of the plan:"
        : `${count} aircraft are out of service on days of the plan:`,
  people: "People",
  shifts: "Shifts",
} as const;
