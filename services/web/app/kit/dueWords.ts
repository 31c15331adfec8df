import { common } from "../strings/common.ts";
import { shortDayWords } from "./dates.ts";

/** Until when work may go on, of a local time: `Tue 15 Jun 18:00`; midnight is the end of the day before, as people say it. */
export function dueWords(local: string): string {
  const [date = "", clock = ""] = local.split("T");
  if (clock.slice(0, 5) !== "00:00") return `${shortDayWords(date)} ${clock.slice(0, 5)}`;
  return common.endOf(shortDayWords(new Date(Date.parse(`${date}T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10)));
}
