import { type Calendar, createCalendar } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import { outfitWords } from "../plan/outfitWords.ts";
import type { CrewDay, Plan } from "../plan/plan.ts";
import { indexPlan, type PlanIndex } from "../plan/planIndex.ts";
import { takesPlaceOf } from "../plan/published.ts";
import { groupBy, indexBy, type Stop, stopsOf, sumOf } from "../plan/totals.ts";
import type { StopFate } from "./ask.ts";
import type { OutfitChange, PlanDifference, StopChange, StopPlace } from "./difference.ts";
import { minutesLater } from "./happened.ts";
import { createWhy, type StopBefore, thingOut, type Why } from "./whyChanged.ts";

export interface Planned {
  readonly operation: Operation;
  readonly plan: Plan;
}

/** What is otherwise in a plan than in an earlier one of the same operation, on the days that both have, and why. `fates` tells what has become of the earlier one's stops meanwhile. */
export function planDifference(before: Planned, now: Planned, fates: readonly StopFate[] = []): PlanDifference {
  const calendar = createCalendar(now.plan);
  const laterMin = minutesLater(before.plan, calendar);
  const { changeStartToleranceMin } = now.operation.settings.planning;
  const stopsBefore = stopsOf(before.plan)
    .filter(({ crewDay }) => calendar.dates.includes(crewDay.date))
    .map((stop): StopBefore => ({ ...stop, startMin: stop.work.startMin + laterMin, laterMin }));
  const stopsNow = indexBy(stopsOf(now.plan), ({ block }) => block.id);
  const taken = takesPlaceOf(before.plan.blocks, now.plan.blocks);
  const blocksNow = groupBy([...taken], ([, block]) => block.id);
  const stopBefore = indexBy(stopsBefore, ({ block }) => block.id);
  const isSamePlace = (one: StopBefore, { crewDay, work }: Stop) =>
    one.crewDay.crewId === crewDay.crewId &&
    one.crewDay.date === crewDay.date &&
    Math.abs(one.startMin - work.startMin) <= changeStartToleranceMin;
  const isKept = (stop: Stop) => {
    const block = taken.get(stop.block.id);
    const was = block === undefined ? undefined : stopBefore.get(block.id);
    return was !== undefined && isSamePlace(was, stop);
  };
  const why = createWhy({ before: before.operation, now: now.operation, plan: now.plan, fates, isKept });
  const wordsBefore = createWords(before.operation, calendar);
  const wordsNow = createWords(now.operation, calendar);

  let kept = 0;
  const changes = stopsBefore.flatMap((stop): StopChange[] => {
    const ids = (blocksNow.get(stop.block.id) ?? []).map(([id]) => id);
    const places = ids.map((id) => stopsNow.get(id)).filter((one) => one !== undefined);
    const elsewhere = places.filter((one) => !isSamePlace(stop, one));
    if (places.length > 0 && elsewhere.length === 0 && places.length === ids.length) {
      kept++;
      return [];
    }
    const place = elsewhere[0];
    const reason = why(stop, place);
    const kind = place !== undefined ? "moved" : reason.reason === "done" ? "done" : "dropped";
    const now = place === undefined ? null : wordsNow.place(place.crewDay, place.work.startMin);
    const was = wordsBefore.place(stop.crewDay, stop.startMin);
    return [{ kind, ...wordsBefore.block(place?.block ?? stop.block), before: was, now, ...reason }];
  });
  const wasStop = new Set<string>(stopsBefore.map(({ block }) => block.id));
  const added = [...stopsNow.values()].flatMap((stop): StopChange[] => {
    const block = taken.get(stop.block.id);
    if (block !== undefined && wasStop.has(block.id)) return [];
    const place = wordsNow.place(stop.crewDay, stop.work.startMin);
    return [
      { kind: "added", ...wordsNow.block(stop.block), before: null, now: place, ...whyAdded(before, stop, fates) },
    ];
  });
  const outfits = outfitChanges(before, now);
  const all = [...changes, ...added].sort((a, b) => Date.parse(whenOf(a)) - Date.parse(whenOf(b)));
  const count = (kind: StopChange["kind"]) => all.filter((one) => one.kind === kind).length;
  return {
    counts: {
      kept,
      done: count("done"),
      moved: count("moved"),
      dropped: count("dropped"),
      added: count("added"),
      outfits: outfits.length,
    },
    sameDays: before.plan.firstDay === now.plan.firstDay && before.plan.days === now.plan.days,
    before: totalsOf(before.plan, calendar),
    now: totalsOf(now.plan, calendar),
    changes: all,
    outfits,
  };
}

function whenOf({ before, now }: StopChange): string {
  return (before ?? now)!.startAt;
}

function createWords(operation: Operation, calendar: Calendar) {
  const fieldOf = (orderId: string) => {
    const order = operation.orders.find(({ id }) => id === orderId)!;
    return operation.fields.features.find(({ properties }) => properties.id === order.fieldId)!.properties;
  };
  return {
    block: ({ id, orderId, areaHa }: Plan["blocks"][number]) => {
      const { id: fieldId, name: fieldName } = fieldOf(orderId);
      return { blockId: id, orderId, fieldId, fieldName, areaHa };
    },
    place: ({ crewId, date }: CrewDay, startMin: number): StopPlace => ({
      crewId,
      crewName: operation.fleet.crews.find(({ id }) => id === crewId)?.name ?? crewId,
      date,
      startAt: calendar.isoOfMin(startMin),
      clock: calendar.clockOfMin(startMin),
    }),
  };
}

function whyAdded({ operation, plan }: Planned, { block }: Stop, fates: readonly StopFate[]): Why {
  if (!operation.orders.some(({ id }) => id === block.orderId)) {
    return { reason: "orderNew", sentence: "Its order is new." };
  }
  const left = new Set(fates.filter(({ fate }) => fate === "doneInPart").map(({ blockId }) => blockId));
  if (plan.blocks.some(({ id, orderId }) => orderId === block.orderId && left.has(id))) {
    return { reason: "restOfOrder", sentence: "It is what is left of a stop that was left before its end." };
  }
  return { reason: "roomNow", sentence: "It was not planned before, and there is room for it now." };
}

function outfitChanges(before: Planned, now: Planned): OutfitChange[] {
  const [indexBefore, indexNow] = [before, now].map(({ operation, plan }) => indexPlan(operation, plan)) as [
    PlanIndex,
    PlanIndex,
  ];
  return now.plan.crewDays.flatMap((crewDay): OutfitChange[] => {
    const { crewId, date } = crewDay;
    const was = before.plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
    if (was === undefined || takenOut(was) === takenOut(crewDay)) return [];
    const why = thingOut(now.operation, was) ?? {
      reason: "saves" as const,
      sentence: "Nothing stands against what it was to take, but the plan as a whole costs less this way.",
    };
    const crewName = indexNow.crew(crewId).name;
    const words = [outfitWords(indexBefore, was.outfit).short, outfitWords(indexNow, crewDay.outfit).short] as const;
    return [{ crewId, crewName, date, before: words[0], now: words[1], ...why }];
  });
}

function takenOut({ outfit }: CrewDay): string {
  return [...[...outfit.aircraftIds].sort(), outfit.tenderId].join(" ");
}

function totalsOf({ crewDays, blocks, score }: Plan, { dates }: Calendar): PlanDifference["now"] {
  const stops = stopsOf({ crewDays: crewDays.filter(({ date }) => dates.includes(date)), blocks });
  const days = new Set(stops.map(({ crewDay }) => crewDay));
  return {
    stops: stops.length,
    servedHa: sumOf(stops, ({ block }) => block.areaHa),
    totalCents: score.totalCents,
    changeCents: score.changeCents ?? 0,
    roadKm: sumOf([...days], ({ activities }) =>
      sumOf(activities, (activity) => (activity.kind === "drive" ? activity.distanceKm : 0)),
    ),
  };
}
