import { hoursAndMinutes } from "../../shared/agronomy/timeWords.ts";
import { counted, moneyWords, readable } from "../../shared/plan/words.ts";
import type { Reason } from "./explainWindows.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";
import { createState, setOutfit } from "./state.ts";
import { type Trial, type TryOn, tryBlock, tryOn } from "./trial.ts";

/** Why a block that has windows, an outfit and a crew is not in the plan, found by trying: in the plan as it is, alone in an empty week, beside the orders that it must keep apart from. */
export function explainHours(problem: Problem, { present, empty }: Trials, block: number): Reason {
  const here = tryBlock(problem, present, block, false);
  if (here !== null) return doesNotPay(problem, block, here);
  const alone = tryBlock(problem, empty, block, true);
  if (alone === null) return notEvenAlone(problem, block);
  return apartFromOthers(problem, present.state, empty, block) ?? crewsAreFull(problem, present.state, block, alone);
}

/** The plan, and the same week with nothing planned. */
export interface Trials {
  readonly present: TryOn;
  readonly empty: TryOn;
}

export function createTrials(problem: Problem, present: TryOn): Trials {
  return { present, empty: tryOn(problem, createState(problem.routes)) };
}

function crewDayWords(problem: Problem, slot: number): string {
  const { crew, day } = problem.slots[slot]!;
  return `${problem.crews[crew]!.name} on ${problem.calendar.dates[day]}`;
}

function doesNotPay(problem: Problem, block: number, { slot, cents }: Trial): Reason {
  const valueCents = problem.routes.valueCents[block]!;
  const { currency } = problem.operation.settings;
  return {
    kind: "notEnoughHours",
    sentence: `${crewDayWords(problem, slot)} could do it, but it would cost ${moneyWords(cents)} ${currency} and is worth ${moneyWords(valueCents)}`,
    evidence: { crewDay: evidenceOf(problem, slot), costCents: Math.round(cents), valueCents: Math.round(valueCents) },
  };
}

function notEvenAlone(problem: Problem, block: number): Reason {
  const slots = problem.slotsOfBlock[block]!;
  return {
    kind: "notEnoughHours",
    sentence: `even alone in an empty week no crew can drive there, do it and be back within its shift and duty hours, with aircraft that are in service (${counted(slots.length, "crew-day", "crew-days")} tried)`,
    evidence: { crewDays: slots.map((slot) => evidenceOf(problem, slot)), fitsAlone: false },
  };
}

function evidenceOf(problem: Problem, slot: number) {
  const { crew, day } = problem.slots[slot]!;
  return { crewId: problem.crews[crew]!.id, date: problem.calendar.dates[day]! };
}

/** The block fits an empty week, but not one that holds nothing except the orders it must keep apart from, where the plan has them. */
function apartFromOthers(problem: Problem, state: State, empty: TryOn, block: number): Reason | null {
  const order = problem.orders[problem.blocks[block]!.order]!;
  const seasonal = order.seasons.flatMap((season) => problem.seasonLimits[season]!.orders);
  const others = new Set([...order.apart.map(({ order: other }) => other), ...seasonal]);
  others.delete(problem.blocks[block]!.order);
  const planned = [...others].filter((other) => isPlanned(problem, state, other));
  if (planned.length === 0) return null;
  if (tryBlock(problem, besideOrders(problem, state, empty, others), block, true) !== null) return null;

  const near = order.apart
    .filter(({ order: other, days, minutes }) => days + minutes > 0 && isPlanned(problem, state, other))
    .map(({ order: other, days, minutes }) => ({
      orderId: problem.orders[other]!.order.id,
      days,
      hours: minutes / 60,
    }));
  if (near.length > 0) {
    const words = near.map(({ orderId, days, hours }) =>
      hours > days * 24 ? `${readable(hours)} h from ${orderId}` : `${counted(days, "day", "days")} from ${orderId}`,
    );
    return {
      kind: "retreatment",
      sentence: `must stay ${words.join(" and ")} on the same field`,
      evidence: { orders: near },
    };
  }
  const names = planned.map((other) => problem.orders[other]!.order.id);
  return {
    kind: "seasonMaximum",
    sentence: `what the label still allows this season is taken by ${names.join(", ")}`,
    evidence: { plannedOrders: names, limits: order.seasons.map((season) => problem.seasonLimits[season]!) },
  };
}

/** An empty week but for the blocks of these orders, with the kits and at the times that the plan has. */
function onlyOrders(problem: Problem, state: State, orders: ReadonlySet<number>): State {
  const only = createState(problem.routes);
  only.startPlace.set(state.startPlace);
  only.endPlace.set(state.endPlace);
  for (let slot = 0; slot < problem.slots.length; slot++) {
    for (let at = 0; at < state.count[slot]!; at++) {
      const stop = state.sequence[slot * problem.routes.stride + at]!;
      const { order } = problem.blocks[stop]!;
      if (!orders.has(order)) continue;
      if (only.outfit[slot] === null) setOutfit(only, slot, state.outfit[slot]!);
      only.sequence[slot * problem.routes.stride + only.count[slot]!] = stop;
      only.count[slot] = only.count[slot]! + 1;
      only.slotOf[stop] = slot;
      only.startMin[stop] = state.startMin[stop]!;
      only.endMin[stop] = state.endMin[stop]!;
    }
    only.leaveMin[slot] = state.leaveMin[slot]!;
    only.backMin[slot] = state.backMin[slot]!;
  }
  return only;
}

/** To be tried on that week. Where a base has nothing out, its crews have the kits of an empty week. */
function besideOrders(problem: Problem, state: State, empty: TryOn, orders: ReadonlySet<number>): TryOn {
  const only = onlyOrders(problem, state, orders);
  const days = problem.calendar.dates.length;
  const isOut = new Uint8Array(problem.operation.settings.bases.length * days);
  const basesDays = (slot: number) => {
    const { crew, days: away } = problem.slots[slot]!;
    return away.map((day) => problem.baseOfCrew[crew]! * days + day);
  };
  problem.slots.forEach((_, slot) => {
    if (only.outfit[slot] !== null) for (const at of basesDays(slot)) isOut[at] = 1;
  });
  const beside = tryOn(problem, only, false);
  const isLikeEmpty = (slot: number) => basesDays(slot).every((at) => isOut[at] === 0);
  return { ...beside, kitsOf: (slot) => (isLikeEmpty(slot) ? empty : beside).kitsOf(slot) };
}

/** In whole or part. */
function isPlanned(problem: Problem, state: State, order: number): boolean {
  return problem.blocksOfOrder[order]!.some((block) => state.slotOf[block]! >= 0);
}

function crewsAreFull(problem: Problem, state: State, block: number, alone: Trial): Reason {
  const crewDays = problem.slotsOfBlock[block]!.map((slot) => ({
    ...evidenceOf(problem, slot),
    stops: state.count[slot]!,
    dutyMin: state.count[slot]! > 0 ? state.backMin[slot]! - state.leaveMin[slot]! : 0,
  }));
  const busy = crewDays.filter(({ stops }) => stops > 0);
  const longest = busy.reduce((most, { dutyMin }) => Math.max(most, dutyMin), 0);
  const idle = crewDays.length - busy.length;
  return {
    kind: "notEnoughHours",
    sentence: [
      `alone it would fit (${crewDayWords(problem, alone.slot)}), but ${counted(busy.length, "crew-day that could do it is", "crew-days that could do it are")} full with work that is worth more, up to ${hoursAndMinutes(longest)} of duty`,
      ...(idle > 0 ? [`${idle} more stand without tender, aircraft, batteries, duty hours or rest`] : []),
    ].join("; "),
    evidence: { fitsAlone: evidenceOf(problem, alone.slot), crewDays },
  };
}
