import { readFile } from "node:fs/promises";
import { historyFromTable } from "../../services/scenario/readSeason.ts";
import type { CaseSetDocument } from "../../shared/cases/caseSet.ts";
import { judgeCaseSet } from "../../shared/cases/judgeCaseSet.ts";
import type { Operation } from "../../shared/model/operation.ts";

const folder = new URL("../../scenarios/cases/", import.meta.url);
const shownCases = ["crane-west", "tender-west", "crew-west", "outfit-west", "charger-west", "hour-longer"];
/** Of the history one year is enough, and half as much to send. */
const shownYear = "2026";

const textOf = (name: string) => readFile(new URL(name, folder), "utf8");

/** A set as an owner of the demo's operation may have written it: cases, a curve, and the season to draw weeks from. */
export async function demoCaseSet(operation: Operation): Promise<CaseSetDocument> {
  const { cases, curve, interestPct, weeksPerYear } = JSON.parse(await textOf("demo.json"));
  const shown = cases.filter(({ id }: { id: string }) => shownCases.includes(id));
  const [head, ...rows] = (await textOf("history.csv")).split("\n");
  const table = [head, ...rows.filter((row) => row.split(",")[3]?.startsWith(shownYear))].join("\n");
  const history = historyFromTable("history.csv", table, operation);
  if (!history.ok) throw new Error(JSON.stringify(history.faults.slice(0, 3)));
  const set = {
    name: "What the west yard could use",
    cases: { formatVersion: 1, cases: shown, curve, interestPct, weeksPerYear },
    season: { document: JSON.parse(await textOf("season.json")), weather: history.steps },
  };
  const judged = judgeCaseSet(set, operation);
  if (!judged.ok) throw new Error(JSON.stringify(judged.faults.slice(0, 3)));
  return judged.document;
}
