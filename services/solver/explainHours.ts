import { shortDateWords } from "../../shared/model/dateWords.ts";
import { counted, hectares, moneyWords } from "../../shared/plan/words.ts";
import type { Problem } from "./problem.ts";
import { explainApart } from "./reasons/apart.ts";
import { type BesideWeek, createBesideWeek } from "./reasons/beside.ts";
import { mostWalks, type Swap, swapsFor, type WalkBudget } from "./reasons/displace.ts";
import type { Reason } from "./reasons/reason.ts";
import type { State } from "./routes.ts";
import { createState } from "./state.ts";
import { type Trial, type TryOn, tryBlock, tryOn } from "./trial.ts";

/** The plan, and the same week with nothing planned. */
export interface Trials {
  readonly present: TryOn;
  readonly empty: TryOn;
  readonly beside: BesideWeek;
  readonly budget: WalkBudget;
}

export function createTrials(problem: Problem, present: TryOn): Trials {
  const empty = tryOn(problem, createState(problem.routes));
  return { present, empty, beside: createBesideWeek(problem, empty), budget: { left: mostWalks } };
}

/** Our choice: so many swaps are told in the sentence, and so many in the evidence. */
const mostToldInWords = 2;
const mostTold = 5;

/** Why a block that nothing keeps out of an empty week is not in the plan, found by trying: in the plan as it is, beside the orders that it must keep apart from, and in place of other stops. */
export function explainHours(problem: Problem, { present, empty, beside, budget }: Trials, block: number): Reason {
  const here = tryBlock(problem, present, block, false);
  const alone = here ?? tryBlock(problem, empty, block, true);
  if (alone === null) return notEvenAlone(problem, block);
  const apart = here === null ? explainApart(problem, present.state, beside, block) : null;
  if (apart !== null) return apart;
  const swaps = swapsFor(problem, present.state, block, budget);
  return here === null
    ? crewsAreFull(problem, present.state, block, alone, swaps)
    : doesNotPay(problem, present.state, block, here, swaps);
}

function crewDayWords(problem: Problem, slot: number): string {
  const { crew, day } = problem.slots[slot]!;
  const date = problem.calendar.dates[day]!;
  return `${problem.crews[crew]!.name} on ${shortDateWords(date, date)}`;
}

function evidenceOf(problem: Problem, slot: number) {
  const { crew, day } = problem.slots[slot]!;
  return { crewId: problem.crews[crew]!.id, date: problem.calendar.dates[day]! };
}

/** From ten up without cents: no dispatcher decides by them. */
function amount(cents: number): string {
  return Math.abs(cents) < 1000 ? moneyWords(cents) : String(Math.round(cents / 100));
}

function money(problem: Problem, cents: number): string {
  return `${amount(cents)} ${problem.operation.settings.currency}`;
}

/** There is room for it: dearer than it is worth, or a search that ended too soon has not come to it. Or another stop would have to go. */
function doesNotPay(
  problem: Problem,
  state: State,
  block: number,
  { slot, cents }: Trial,
  swaps: readonly Swap[],
): Reason {
  const valueCents = problem.routes.valueCents[block]!;
  const lossCents = cents - valueCents;
  const better = swaps.filter((swap) => swap.lossCents < lossCents);
  const result = gains({ lossCents })
    ? `, and that would gain ${money(problem, -lossCents)}`
    : `, but at a loss of ${money(problem, lossCents)}`;
  const told = `it costs ${amount(cents)} and is worth ${amount(valueCents)}`;
  const hint = gains({ lossCents }) ? "; longer planning may bring it in" : "";
  return {
    kind: "notEnoughHours",
    sentence: `${crewDayWords(problem, slot)} could do it on top${result}: ${told}${hint}${better.length > 0 ? `; ${swapWords(problem, state, better)}` : ""}`,
    evidence: {
      crewDay: evidenceOf(problem, slot),
      costCents: Math.round(cents),
      valueCents: Math.round(valueCents),
      ...swapEvidence(problem, state, swaps),
    },
  };
}

function notEvenAlone(problem: Problem, block: number): Reason {
  const slots = problem.slotsOfBlock[block]!;
  return {
    kind: "notEnoughHours",
    sentence: `even alone in an empty week no crew can drive there, do it and be back within its shift and duty hours (${counted(slots.length, "crew-day", "crew-days")} tried)`,
    evidence: { crewDays: slots.map((slot) => evidenceOf(problem, slot)), fitsAlone: false },
  };
}

function crewsAreFull(problem: Problem, state: State, block: number, alone: Trial, swaps: readonly Swap[]): Reason {
  const crewDays = problem.slotsOfBlock[block]!.map((slot) => ({
    ...evidenceOf(problem, slot),
    stops: state.count[slot]!,
    dutyMin: dutyOf(state, slot),
    dutyMaxMin: mostDutyMin(problem, slot),
  }));
  const busy = crewDays.filter(({ stops }) => stops > 0).length;
  const idle = crewDays.length - busy;
  const full =
    busy === 1 ? "the one crew-day that could do it is full" : `all ${busy} crew-days that could do it are full`;
  const outfits = busy === 1 ? "the outfit that it has out" : "the outfits that they have out";
  return {
    kind: "notEnoughHours",
    sentence: [
      `alone it would fit (${crewDayWords(problem, alone.slot)}), but ${busy === 0 ? "the things it takes are elsewhere" : full}`,
      ...(idle > 0 && busy > 0 ? [`${idle} more stand without tender, aircraft, batteries, duty hours or rest`] : []),
      swaps.length > 0
        ? swapWords(problem, state, swaps)
        : `nothing was found that could give way to it${busy > 0 ? ` with ${outfits}` : ""}`,
    ].join("; "),
    evidence: { fitsAlone: evidenceOf(problem, alone.slot), crewDays, ...swapEvidence(problem, state, swaps) },
  };
}

function dutyOf(state: State, slot: number): number {
  return state.count[slot]! > 0 ? state.backMin[slot]! - state.leaveMin[slot]! : 0;
}

/** As the duty of a day and the shift allow. */
function mostDutyMin({ routes }: Problem, slot: number): number {
  return Math.min(routes.dutyMaxMin[slot]!, routes.toMin[slot]! - routes.fromMin[slot]!);
}

/** Who, which day, instead of which order, at what loss. Of swaps that would gain only the best is told: a longer search may come to it or to a better one. */
function swapWords(problem: Problem, state: State, swaps: readonly Swap[]): string {
  const told = gains(swaps[0]!) ? 1 : mostToldInWords;
  return swaps
    .slice(0, told)
    .map((swap) => {
      const { slot, lossCents } = swap;
      const out = displacedBy(problem, state, swap).map(({ orderId, areaHa }) => `${orderId} (${hectares(areaHa)} ha)`);
      const duty = `${dutyWords(dutyOf(state, slot))} of ${dutyWords(mostDutyMin(problem, slot))} on duty`;
      const result = gains(swap)
        ? `, and that would gain ${money(problem, -lossCents)}: longer planning may bring it in`
        : ` at a loss of ${money(problem, lossCents)}`;
      return `${crewDayWords(problem, slot)} (${duty}) could do it instead of ${out.join(" and ")}${result}`;
    })
    .join("; or ");
}

/** By more than half a cent. */
function gains({ lossCents }: Pick<Swap, "lossCents">): boolean {
  return lossCents < -0.5;
}

/** `11 h`, `8 h 30 min`. */
function dutyWords(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), Math.round(minutes % 60)];
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** By order, the blocks that would go. */
function displacedBy(problem: Problem, state: State, { slot, out }: Swap) {
  const { stride, valueCents } = problem.routes;
  const byOrder = new Map<string, { orderId: string; blockIds: string[]; areaHa: number; valueCents: number }>();
  for (const at of out) {
    const stop = state.sequence[slot * stride + at]!;
    const { block, areaHa, order } = problem.blocks[stop]!;
    const { id } = problem.orders[order]!.order;
    const known = byOrder.get(id) ?? { orderId: id, blockIds: [], areaHa: 0, valueCents: 0 };
    byOrder.set(id, {
      orderId: id,
      blockIds: [...known.blockIds, block.id],
      areaHa: known.areaHa + areaHa,
      valueCents: known.valueCents + Math.round(valueCents[stop]!),
    });
  }
  return [...byOrder.values()];
}

function swapEvidence(problem: Problem, state: State, swaps: readonly Swap[]) {
  if (swaps.length === 0) return {};
  const instead = swaps.slice(0, mostTold).map((swap) => ({
    ...evidenceOf(problem, swap.slot),
    dutyMin: dutyOf(state, swap.slot),
    dutyMaxMin: mostDutyMin(problem, swap.slot),
    displaced: displacedBy(problem, state, swap),
    ...(gains(swap) ? { wouldGainCents: Math.round(-swap.lossCents) } : { lossCents: Math.round(swap.lossCents) }),
  }));
  return { instead };
}
