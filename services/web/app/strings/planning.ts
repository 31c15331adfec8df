import type { PlanFailure } from "../../../../shared/contracts/planRequests.ts";
import type { PlanOrigin, PlanState } from "../../../../shared/contracts/plans.ts";
import type { ChangeRole } from "../week/planning/differenceGroups.ts";

const counted = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

/** What the plan's bar and its dialogs say. */
export const planningWords = {
  bar: "The plan",
  chosenPlan: "Plan shown",
  states: {
    draft: "Draft",
    published: "Published",
    superseded: "Published earlier",
  } satisfies Record<PlanState, string>,
  origins: {
    planned: "by planning",
    replanned: "by planning again",
    moved: "by hand",
  } satisfies Record<PlanOrigin, string>,
  option: (state: string, when: string, served: string) => `${state}: ${when}, ${served}`,
  draftSentence: (how: string, when: string) => `A draft, made ${how} on ${when}. Crews do not see it.`,
  publishedSentence: (number: number) => `Crews go by this plan: number ${number}.`,
  supersededSentence: (number: number) => `Crews went by this plan before: number ${number}.`,
  told: (by: string, when: string) => `Published by ${by} on ${when}.`,
  note: (note: string) => `Note for the crews: ${note}`,
  olderVersion: "The operation has been changed since this plan was made.",
  figures: {
    area: "Planned, of ordered",
    planned: "Planned",
    conflicts: "Left out",
    duty: "On duty",
    road: "On the road",
    cost: "Estimated cost",
  },
  costHint: "With a charge for orders left out and for changes. Less is better.",
  /** Behind their numbers, in one line. */
  behind: {
    area: "planned",
    conflicts: "left out",
    duty: "on duty",
    road: "on the road",
    cost: "cost",
  },
  leftOut: (count: number, mandatory: number, high: number) => {
    const urgent = [mandatory > 0 ? `${mandatory} must be done` : "", high > 0 ? `${high} high` : ""].filter(Boolean);
    return `${counted(count, "order", "orders")}${urgent.length > 0 ? ` (${urgent.join(", ")})` : ""}`;
  },
  ofArea: (planned: string, ordered: string) => `${planned} of ${ordered}`,
  check: {
    good: (checks: number, rules: number) =>
      `The checker found nothing wrong: ${checks.toLocaleString("en-GB")} checks of ${rules} rules.`,
    bad: (count: number) => `The checker found ${counted(count, "broken rule", "broken rules")}.`,
  },
  brokenLocks: (count: number) => `${counted(count, "lock does", "locks do")} not hold in this plan.`,
  more: "More",
  ask: "Make a plan",
  changed: "Report a change",
  compare: "Compare",
  publish: "Publish",
  links: "Crews' phones",
  discard: "Discard this draft",
  discarded: "The draft is gone.",
  discardQuestion: "The draft is gone for good. No other plan changes.",

  askTitle: "Make a plan for this week",
  askText:
    "It is made from the operation as it stands now. What is shown stays; you can go on working. Longer planning usually finds a better plan.",
  howLong: "How long to plan",
  seconds: (seconds: number) => (seconds < 60 ? `${seconds} seconds` : counted(seconds / 60, "minute", "minutes")),
  begin: "Begin",
  busy: "Another plan is being made. Yours begins when that one is done.",
  begun: "Planning has begun. You can go on working.",

  running: {
    title: { plan: "Planning", replan: "Planning again" },
    queued: "Waiting for its turn.",
    starting: "Reading the fields and the weather.",
    left: (words: string) => `about ${words} left`,
    ending: "The last touches: reasons are found and the plan is checked.",
    area: "Hectares planned",
    areaNow: (area: string) => `Best so far: ${area} planned`,
    cost: "Cost",
    costNow: (money: string) => `cost ${money}`,
    gap: (percent: string) => `at most ${percent} % above the least possible cost`,
    noGap: "nothing is proven yet of how good that is",
    stop: "Stop and keep the best",
    stopping: "It is being stopped.",
    silent: "The server does not answer. Planning goes on there.",
    first: (seconds: string) => `What still holds of the published plan was checked after ${seconds} s.`,
  },
  ended: {
    done: (served: string) => `A plan is ready: ${served} planned.`,
    doneReplan: (served: string) => `The plan made again is ready: ${served} planned.`,
    stopped: "Planning was stopped. The best plan so far is kept as a draft.",
    stoppedEmpty: "Planning was stopped before there was a plan.",
    show: "Show it",
    look: "See what changes",
    dismiss: "Put away",
    failed: {
      checkerFaulted:
        "The planner made a plan that breaks a rule, so it was not kept. Plan again; if it comes back, tell us.",
      plannerFailed: "Planning failed.",
      startedTooOften: "Planning broke off several times and was given up.",
    } satisfies Record<PlanFailure["kind"], string>,
  },

  compareTitle: "Compare two plans",
  compareText: "Now is the plan shown, was is the other one.",
  otherPlan: "With which plan",
  nothingToCompare: "There is no other plan of this operation yet.",

  difference: {
    counts: {
      kept: (count: number) => `${counted(count, "stop stays", "stops stay")} as they are`,
      done: (count: number) => `${count} done`,
      moved: (count: number) => `${count} moved`,
      dropped: (count: number) => `${count} dropped`,
      added: (count: number) => `${count} added`,
      outfits: (count: number) => counted(count, "outfit changed", "outfits changed"),
    },
    none: "Nothing changes.",
    saves: "Stops without a reason moved only because the plan as a whole costs less this way.",
    roles: {
      done: "Done",
      added: "New",
      dropped: "Dropped",
      otherTime: "Other time",
      comes: "Comes",
      goes: "Goes",
    } satisfies Record<ChangeRole, string>,
    added: (clock: string) => `at ${clock}`,
    dropped: (clock: string) => `was at ${clock}`,
    otherTime: (was: string, now: string) => `at ${now}, was at ${was}`,
    comes: (crew: string, day: string, now: string) => `at ${now}, from ${crew}, ${day}`,
    goes: (crew: string, day: string, was: string) => `was at ${was}, goes to ${crew}, ${day}`,
    outfit: (was: string, now: string) => `Takes ${now}; was ${was}.`,
    remarks: "Good to know",
    search: "Search crew, field or order",
  },

  publishTitle: "Publish this plan",
  publishText: "Crews see it on their phones at once, and go by it from then on.",
  firstTime: (crews: number) =>
    `Crews have not been told a plan yet. ${counted(crews, "crew goes", "crews go")} out by this one.`,
  isPublished: "This is the live plan already.",
  noteLabel: "Note for the crews",
  noteHint: "They read it above their day. May be left empty.",
  publishNow: (number: number) => `Publish as number ${number}`,
  published: (number: number) => `Published as number ${number}.`,
  meanwhile: "Somebody has published meanwhile. Look at what changes now, then publish again if it is still right.",
  nextLinks: "Give crews their links",
  leave: "Leave it as a draft",

  linksTitle: "Links for crews' phones",
  linksText:
    "Whoever opens a link sees this crew's days, and can report, until it expires. Give it to nobody else. It is shown once, here.",
  crew: "Crew",
  whose: "Whose phone",
  days: "Good for",
  daysOf: (days: number) => counted(days, "day", "days"),
  makeLink: "Make a link",
  madeLink: (crew: string) => `Link for ${crew}`,
  calendar: (crew: string) => `Calendar of ${crew}`,
  calendarText: "A calendar that subscribes to this address shows the crew's days, until the link expires.",
  copy: "Copy",
  copyOf: (title: string) => `Copy: ${title}`,
  copied: "Copied.",
  notCopied: "This browser does not let us copy. Mark the address and copy it by hand.",
  linkList: "Links given out",
  noLinks: "No link has been given out yet.",
  given: (by: string, until: string) => `given by ${by}, good until ${until}`,
  withdrawn: "withdrawn",
  expired: "expired",
  withdraw: "Withdraw",
  withdrawOf: (crew: string, note: string) => `Withdraw the link of ${crew}${note === "" ? "" : `, ${note}`}`,
  closeOnly: "Not now",
  withdrawnNow: "The link is withdrawn. Phones that opened it are signed out.",
} as const;
