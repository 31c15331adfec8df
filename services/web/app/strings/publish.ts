const counted = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

/** What is said of a plan beside an earlier one, where it is published and where two are compared. */
export const publishWords = {
  worse: "What gets worse",
  nothingWorse:
    "Nothing gets worse: no order is dropped, none is now later than its preferred day, and no crew at work has its day changed.",
  mandatory: "Must be done, now left out",
  high: "High priority, now left out",
  otherLeftOut: "Also left out now",
  late: "Now after the preferred day",
  atWork: "At work now, and the day changes",
  counted: (title: string, count: number) => `${title} (${count}):`,
  leftOutOne: (field: string, orderId: string, area: string) => `${field} (${orderId}), ${area}`,
  lateOne: (field: string, orderId: string, day: string) => `${field} (${orderId}), on ${day}`,
  atWorkOne: (crew: string, day: string, changes: number) =>
    `${crew}, ${day}, ${counted(changes, "change", "changes")}`,
  namesAndMore: (names: string, more: number) => `${names}; and ${more} more.`,

  figuresTitle: "What the plans come to",
  now: "This plan",
  was: "The other",
  change: "Change",
  figures: { areaHa: "Planned", roadKm: "Road", costCents: "Cost" },
  costHint: "Cost as the planner counts it, with a charge for orders left out, without one for changes.",
  otherDays: "Only the days of both plans, without what is done. Costs of other days are not compared.",
  same: "the same",
  better: "better",
  worseWord: "worse",

  againstLive: (number: number, by: string, when: string) =>
    `Compared with the live plan (number ${number}, by ${by}, ${when}).`,
  stopByStop: "Stop by stop",
  mustQuestion: (orders: number) =>
    `This plan leaves out ${counted(orders, "order that must be done", "orders that must be done")}. Publish it all the same?`,
  allTheSame: "Publish all the same",
} as const;
