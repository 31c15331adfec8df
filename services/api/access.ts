import type { Role } from "../../shared/contracts/access.ts";
import { listResources, wholeResources } from "../../shared/model/resources.ts";
import { listRouteIds, wholeRouteIds } from "./resourceIds.ts";

/** own: of the caller's own crews only; such a route has the crew in its path. */
export type May = "yes" | "own" | "no";

/** nobody: without having signed in. crewLink: a link for a crew's phone. */
export const callers = ["nobody", "dispatcher", "crewLead", "owner", "administrator", "crewLink"] as const;
export type Caller = (typeof callers)[number] & ("nobody" | "crewLink" | Role);
export type AccessRow = Readonly<Record<Caller, May>>;

const words = { yes: "yes", own: "own", "-": "no" } as const;
type Word = keyof typeof words;

function row(...given: [Word, Word, Word, Word, Word, Word]): AccessRow {
  return Object.fromEntries(callers.map((caller, at) => [caller, words[given[at]!]])) as AccessRow;
}

function ofResources({ reading, writing }: { reading: AccessRow; writing: AccessRow }): Record<string, AccessRow> {
  const ids = [...listResources.map(listRouteIds), ...wholeResources.map(wholeRouteIds)];
  const rows = ids
    .flatMap((one) => Object.entries(one))
    .map(([kind, id]) => [id, kind === "list" || kind === "read" ? reading : writing]);
  return Object.fromEntries(rows) as Record<string, AccessRow>;
}

/** Who may call which route, by its id. A route that is not here is served to nobody. */
// biome-ignore format: it is read as a table.
export const accessTable: Readonly<Record<string, AccessRow>> = {
  //                     nobody  dispatcher  crewLead  owner  administrator  crewLink
  live:              row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),
  ready:             row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),

  signIn:            row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),
  session:           row("-",    "yes",      "yes",    "yes", "yes",         "yes"),
  signOut:           row("-",    "yes",      "yes",    "yes", "yes",         "yes"),
  changePassword:    row("-",    "yes",      "yes",    "yes", "yes",         "-"),
  setPassword:       row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),
  firstStart:        row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),
  openCrewLink:      row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),

  listPeople:        row("-",    "-",        "-",      "-",   "yes",         "-"),
  person:            row("-",    "-",        "-",      "-",   "yes",         "-"),
  addPerson:         row("-",    "-",        "-",      "-",   "yes",         "-"),
  crewsToLead:       row("-",    "-",        "-",      "-",   "yes",         "-"),
  changePerson:      row("-",    "-",        "-",      "-",   "yes",         "-"),
  endSessions:       row("-",    "-",        "-",      "-",   "yes",         "-"),
  makePasswordLink:  row("-",    "-",        "-",      "-",   "yes",         "-"),
  tokensOfPerson:    row("-",    "-",        "-",      "-",   "yes",         "-"),
  revokeTokenOf:     row("-",    "-",        "-",      "-",   "yes",         "-"),
  auditTrail:        row("-",    "-",        "-",      "yes", "yes",         "-"),

  listTokens:        row("-",    "yes",      "yes",    "yes", "yes",         "-"),
  makeToken:         row("-",    "yes",      "yes",    "yes", "yes",         "-"),
  revokeToken:       row("-",    "yes",      "yes",    "yes", "yes",         "-"),

  makeCrewLink:      row("-",    "yes",      "own",    "-",   "-",           "-"),
  listCrewLinks:     row("-",    "yes",      "-",      "-",   "-",           "-"),
  revokeCrewLink:    row("-",    "yes",      "-",      "-",   "-",           "-"),

  importOperation:   row("-",    "yes",      "-",      "-",   "-",           "-"),
  importFiles:       row("-",    "yes",      "-",      "-",   "-",           "-"),
  replaceFiles:      row("-",    "yes",      "-",      "-",   "-",           "-"),
  listOperations:    row("-",    "yes",      "-",      "yes", "-",           "-"),
  latestOperation:   row("-",    "yes",      "-",      "yes", "-",           "-"),
  replaceOperation:  row("-",    "yes",      "-",      "-",   "-",           "-"),
  operationVersion:  row("-",    "yes",      "-",      "yes", "-",           "-"),
  operationVersions: row("-",    "yes",      "-",      "yes", "-",           "-"),
  // Fields, orders, aircraft, weather … each by itself.
  ...ofResources({
    reading:         row("-",    "yes",      "-",      "yes", "-",           "-"),
    writing:         row("-",    "yes",      "-",      "-",   "-",           "-"),
  }),
  windows:           row("-",    "yes",      "-",      "yes", "-",           "-"),

  requestPlan:       row("-",    "yes",      "-",      "-",   "-",           "-"),
  listPlanRequests:  row("-",    "yes",      "-",      "yes", "-",           "-"),
  planRequest:       row("-",    "yes",      "-",      "yes", "-",           "-"),
  planRequestEvents: row("-",    "yes",      "-",      "yes", "-",           "-"),
  cancelPlanRequest: row("-",    "yes",      "-",      "-",   "-",           "-"),
  requestReplan:     row("-",    "yes",      "-",      "-",   "-",           "-"),
  planDifference:    row("-",    "yes",      "-",      "yes", "-",           "-"),

  plan:              row("-",    "yes",      "-",      "yes", "-",           "-"),
  week:              row("-",    "yes",      "-",      "yes", "-",           "-"),
  calm:              row("-",    "yes",      "-",      "yes", "-",           "-"),
  conflicts:         row("-",    "yes",      "-",      "yes", "-",           "-"),
  check:             row("-",    "yes",      "-",      "yes", "-",           "-"),
  crewSheet:         row("-",    "yes",      "-",      "-",   "-",           "-"),
  planMap:           row("-",    "yes",      "-",      "yes", "-",           "-"),
  crewDayMapOfPlan:  row("-",    "yes",      "-",      "-",   "-",           "-"),
  listPlans:         row("-",    "yes",      "-",      "yes", "-",           "-"),
  discardPlan:       row("-",    "yes",      "-",      "-",   "-",           "-"),
  movePlan:          row("-",    "yes",      "-",      "-",   "-",           "-"),
  lockCrewDay:       row("-",    "yes",      "-",      "-",   "-",           "-"),
  unlockCrewDay:     row("-",    "yes",      "-",      "-",   "-",           "-"),

  weekPdf:           row("-",    "yes",      "-",      "yes", "-",           "-"),
  fieldsGeojson:     row("-",    "yes",      "-",      "yes", "-",           "-"),
  fieldsKml:         row("-",    "yes",      "-",      "yes", "-",           "-"),
  fieldsGpx:         row("-",    "yes",      "-",      "yes", "-",           "-"),
  stopsCsv:          row("-",    "yes",      "-",      "yes", "-",           "-"),
  ordersCsv:         row("-",    "yes",      "-",      "yes", "-",           "-"),
  conflictsCsv:      row("-",    "yes",      "-",      "yes", "-",           "-"),
  crewDaysCsv:       row("-",    "yes",      "-",      "yes", "-",           "-"),
  planSheetPdf:      row("-",    "yes",      "-",      "-",   "-",           "-"),
  planDayGeojson:    row("-",    "yes",      "-",      "-",   "-",           "-"),
  planDayKml:        row("-",    "yes",      "-",      "-",   "-",           "-"),
  planDayGpx:        row("-",    "yes",      "-",      "-",   "-",           "-"),

  publishPlan:       row("-",    "yes",      "-",      "-",   "-",           "-"),
  listPublications:  row("-",    "yes",      "-",      "yes", "-",           "-"),
  publishedPlan:     row("-",    "yes",      "-",      "yes", "-",           "-"),
  publishedWeek:     row("-",    "yes",      "-",      "yes", "-",           "-"),
  crewDays:          row("-",    "yes",      "own",    "-",   "-",           "own"),
  crewDay:           row("-",    "yes",      "own",    "-",   "-",           "own"),
  crewDayMap:        row("-",    "yes",      "own",    "-",   "-",           "own"),
  crewDaySheetPdf:   row("-",    "yes",      "own",    "-",   "-",           "own"),
  crewDayGeojson:    row("-",    "yes",      "own",    "-",   "-",           "own"),
  crewDayKml:        row("-",    "yes",      "own",    "-",   "-",           "own"),
  crewDayGpx:        row("-",    "yes",      "own",    "-",   "-",           "own"),
  // A calendar shows nothing of a caller but the crew's link, which stands in its address.
  crewCalendar:      row("yes",  "yes",      "yes",    "yes", "yes",         "yes"),

  addReports:        row("-",    "yes",      "own",    "-",   "-",           "own"),
  listReports:       row("-",    "yes",      "own",    "yes", "-",           "own"),
  crewDayProgress:   row("-",    "yes",      "own",    "yes", "-",           "own"),
  progress:          row("-",    "yes",      "-",      "yes", "-",           "-"),
  progressEvents:    row("-",    "yes",      "-",      "yes", "-",           "-"),

  listApplicationRecords:   row("-", "yes", "-",   "yes", "-", "-"),
  listCrewRecords:          row("-", "yes", "own", "yes", "-", "own"),
  applicationRecord:        row("-", "yes", "own", "yes", "-", "own"),
  applicationRecordsCsv:    row("-", "yes", "-",   "yes", "-", "-"),
  crewRecordsCsv:           row("-", "yes", "own", "yes", "-", "own"),
  applicationRecordPdf:     row("-", "yes", "own", "yes", "-", "own"),
  applicationRecordVersion: row("-", "yes", "own", "yes", "-", "own"),
  changeApplicationRecord:  row("-", "yes", "own", "-",   "-", "-"),

  importCaseSet:     row("-",    "-",        "-",      "yes", "-",           "-"),
  listCaseSets:      row("-",    "yes",      "-",      "yes", "-",           "-"),
  latestCaseSet:     row("-",    "yes",      "-",      "yes", "-",           "-"),
  caseSetVersion:    row("-",    "yes",      "-",      "yes", "-",           "-"),

  studyCases:        row("-",    "-",        "-",      "yes", "-",           "-"),
  studyRemedies:     row("-",    "yes",      "-",      "yes", "-",           "-"),
  studyBottlenecks:  row("-",    "yes",      "-",      "yes", "-",           "-"),
  listStudies:       row("-",    "yes",      "-",      "yes", "-",           "-"),
  study:             row("-",    "yes",      "-",      "yes", "-",           "-"),
  studyEvents:       row("-",    "yes",      "-",      "yes", "-",           "-"),
  cancelStudy:       row("-",    "yes",      "-",      "yes", "-",           "-"),

  listDeadLetters:   row("-",    "yes",      "-",      "-",   "yes",         "-"),
  repeatDeadLetter:  row("-",    "yes",      "-",      "-",   "yes",         "-"),
  dismissDeadLetter: row("-",    "yes",      "-",      "-",   "yes",         "-"),
};

/** For people who have signed in themselves: a token that has fallen into wrong hands must not make others that outlive it. */
export const personOnly: ReadonlySet<string> = new Set([
  "changePassword",
  "addPerson",
  "changePerson",
  "makePasswordLink",
  "listTokens",
  "makeToken",
  "revokeToken",
]);
