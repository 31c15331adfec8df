import type { Fault } from "../model/faults.ts";
import { issueWords } from "../model/issueWords.ts";
import type { Operation } from "../model/operation.ts";
import { schemaFaults, validateOperation } from "../model/validate.ts";
import { createHistory } from "../season/history.ts";
import { type Season, seasonFaults } from "../season/season.ts";
import { type CaseSetDocument, caseSetDocumentSchema, type SentSeason, sentSeasonSchema } from "./caseSet.ts";
import { readCases } from "./readCases.ts";

export type CaseSetJudgement =
  | { readonly ok: true; readonly document: CaseSetDocument }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Judges a set of cases for an operation; all that is wrong with it is listed at once. */
export function judgeCaseSet(raw: unknown, operation: Operation): CaseSetJudgement {
  const parsed = caseSetDocumentSchema.safeParse(raw, { error: issueWords });
  const sent = (raw ?? {}) as { cases?: unknown; season?: unknown };
  const read = readCases(sent.cases, operation);
  const season = sentSeasonSchema.safeParse(sent.season);
  const faults = [
    // What is wrong with the cases readCases tells.
    ...(parsed.success ? [] : schemaFaults(parsed.error.issues, raw).filter(({ path }) => path[0] !== "cases")),
    ...(read.ok ? [] : within(["cases"], read.faults)),
    ...(season.success ? within(["season"], faultsOfSeason(season.data, operation)) : []),
  ];
  return parsed.success && faults.length === 0 ? { ok: true, document: parsed.data } : { ok: false, faults };
}

export function seasonSent({ document, weather }: SentSeason, operation: Operation): Season {
  return { document, history: createHistory(weather, operation.settings.timeZone) };
}

/** Its weather is judged as an operation's own is: its stations stand where they could serve the fields. */
function faultsOfSeason(sent: SentSeason, operation: Operation): Fault[] {
  const judged = validateOperation({ ...operation, weather: sent.weather });
  const ofWeather = judged.ok ? [] : judged.faults.filter(({ path }) => path[0] === "weather");
  if (ofWeather.length > 0) return ofWeather;
  return within(["document"], seasonFaults(seasonSent(sent, operation), operation));
}

function within(path: Fault["path"], faults: readonly Fault[]): Fault[] {
  return faults.map((fault) => ({ ...fault, path: [...path, ...fault.path] }));
}
