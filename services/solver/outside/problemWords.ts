import type { PlanningProblem } from "../../../shared/contracts/planningProblem.ts";

/** What a reader has to know of the file before comparing anything with it. */
export const about: PlanningProblem["about"] = {
  holds: [
    "One operation, cut into blocks and put into numbers once, as this planner's own search works on it: windows, minutes, roads, outfits, costs and rules.",
    "Minutes of work are those of an outfit with all its battery sets or tanks full at the start, and with the most sets and chargers that its base has; with fewer, work never takes less.",
    "What another solver makes of it comes back as tours: crew, date, outfit and the order of the blocks. Times are worked out here, stop by stop, by all rules, and the checker judges the plan.",
  ],
  leavesOut: [
    "Charging over a day: sets that are not charged when a later block begins make its work longer than its minutes here. A solver that leaves this out may find that its last stops do not run.",
    "Minutes of outfits with fewer battery sets or chargers than the base has.",
    "Where tenders are filled on the way: the nearest filling place is taken when the water left is less than the next block takes.",
    "Times, in what comes back: pauses within a work are made here where they end it sooner, and where crews share a field the one that can begin first goes first.",
    "Outfits of two types of aircraft, which crews with mixedOutfit may take out. In a tour they are taken as they are: each block is then worked by the type that takes the fewest minutes.",
    "Two costs that plans here may have beside those: of hours that the forecast may miss, and of changes against a published plan.",
    "Weather, labels and shapes of fields: they are in the windows, minutes and blocks already.",
  ],
};

export const rules: PlanningProblem["rules"] = [
  {
    rule: "objective",
    sentence:
      "Least sum of cents: valueCents of blocks that are not planned, driveCentsPerKm of road km, wages of duty from leaving the base to being back, overtime, running costs of aircraft by hours of work, lateness by areaHa and whole days after preferredDate of the date on which work ends, and outfit changes.",
  },
  {
    rule: "overtime",
    sentence: "Duty over standardHoursPerDay costs costCentsPerHour x (overtimeFactor - 1) more for each hour.",
  },
  {
    rule: "block",
    sentence: "Each block is worked at most once, by one slot, wholly within its windows.",
  },
  {
    rule: "pause",
    sentence:
      "A work may pause between two windows, for at most pauseMaxMin each time (0: never). Each stretch of a work that pauses is at least stretchMinMin long and lies in one window; each pause makes the work resumeMin longer. The crew stays, and the field is taken.",
  },
  {
    rule: "night",
    sentence:
      "Windows by night are open to crews with nightWork and types that have them; all others have those by day.",
  },
  {
    rule: "slot",
    sentence:
      "A slot has one outfit for the day. The crew leaves its base, works the stops in order and is back, all between shiftFromMin and shiftToMin; it may leave later than shiftFromMin.",
  },
  {
    rule: "duty",
    sentence:
      "Duty is at most dutyMaxHoursPerDay, over any seven days in a row dutyMaxHoursPerWeek; between two slots of a crew lie at least restMinHours.",
  },
  {
    rule: "nightAway",
    sentence:
      "A slot ends at the crew's base, or at one of its overnightBaseIds, where it says sleepsAt; then the crew has a slot with work on the next date, which begins there with the same outfit, and between the two lies the time to charge all its sets in its working bays. Each such night costs nightAwayCents. A slot with two awayDates ends at home.",
  },
  {
    rule: "pools",
    sentence:
      "Aircraft, tenders and chargers are with one slot at a time on each of its awayDates; battery sets of all slots of a base on a date are at most those of the pool. A tender carries aircraft up to its transportSlots.",
  },
  {
    rule: "battery",
    sentence:
      "An outfit on batteries has at least as many sets as aircraft and at least one charger that the tender's generator can feed.",
  },
  {
    rule: "licences",
    sentence: "A crew works an order only with an outfit for which mayTake lists the order's licences.",
  },
  {
    rule: "moving",
    sentence:
      "At a pad reached by road setupMin comes before work, at the first one of a day calibrationMin too; packupMin before leaving a pad. Blocks one after the other at the same place need neither. Each is rounded up to whole minutes.",
  },
  {
    rule: "water",
    sentence:
      "The tender leaves the base full. A block takes its waterL, a clean-out its cleanOutL. When less is left than the next stop takes, the tender is filled first at a place with fillLPerMin, minutes rounded up; what one stop takes must be within the tender's waterL.",
  },
  {
    rule: "cleanOut",
    sentence:
      "Before an order of another group (other than any) in the same method, the greatest cleanOutMin of the orders that left the old group passes at the pad.",
  },
  {
    rule: "methodChange",
    sentence: "Before work by another method than the last of the day, methodChangeMin passes at the pad.",
  },
  { rule: "airspace", sentence: "No two crews work on one field at the same time." },
  {
    rule: "apartFrom",
    sentence:
      "All work of the earlier of two such orders ends before the later one's begins, by so many local dates and so many minutes.",
  },
  {
    rule: "locks",
    sentence:
      "Blocks of a locked stop are worked by that slot or not at all, the first of them from startAt on where that is said (its windows are then its own), in the order of the list with inOrder, and with nothingElse no others. What is named of the outfit the slot has out, if it has one, and no other slot has it on that date.",
  },
  { rule: "seasonLimits", sentence: "Of the orders of a limit, those with work are at most mostOrders and mostPerHa." },
];
