import type { Obstacle } from "../../../shared/plan/plan.ts";
import { counted, readable } from "../../../shared/plan/words.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { type BesideWeek, blockingStops } from "./beside.ts";
import { becauseOf, type Reason } from "./reason.ts";

/** The block fits an empty week, but not beside the orders that it must keep apart from, where the plan has them. */
export function explainApart(problem: Problem, state: State, week: BesideWeek, block: number): Reason | null {
  const own = problem.blocks[block]!.order;
  const order = problem.orders[own]!;
  const seasonal = order.seasons.flatMap((season) => problem.seasonLimits[season]!.orders);
  const others = [...new Set([...order.apart.map(({ order: other }) => other), ...seasonal])].filter(
    (other) => other !== own && problem.blocksOfOrder[other]!.some((one) => state.slotOf[one]! >= 0),
  );
  if (others.length === 0) return null;
  const groups = others.map((other) => problem.blocksOfOrder[other]!);
  const { sets, isAll } = blockingStops(problem, state, week, block, groups);
  if (sets.length === 0) return null;
  const told = sets.map((set) => set.map((at) => apartFrom(problem, own, others[at]!)));
  const because = becauseOf(told, !isAll);
  const first = because.sets[0]!;
  const sentences = first.map(({ sentence }) => sentence);
  const isSeason = first.every(({ limit }) => limit === "seasonMax");
  return {
    kind: isSeason ? "seasonMaximum" : "retreatment",
    sentence: isSeason
      ? `what the label still allows this season is taken by ${first.map(({ orderId }) => orderId).join(", ")}`
      : `must stay ${sentences.join(" and ")}, which the plan has on the same field`,
    because,
    evidence: { orders: first.map(({ orderId, data }) => ({ orderId, ...data })) },
  };
}

function apartFrom(problem: Problem, own: number, other: number): Obstacle {
  const { id: orderId } = problem.orders[other]!.order;
  const rule = problem.orders[own]!.apart.find(({ order, days, minutes }) => order === other && days + minutes > 0);
  if (rule === undefined) {
    const limits = problem.orders[own]!.seasons.map((season) => problem.seasonLimits[season]!);
    const sentence = `${orderId} takes what the label still allows this season`;
    return { limit: "seasonMax", orderId, sentence, data: { limits } };
  }
  const { days, minutes } = rule;
  const hours = minutes / 60;
  return {
    limit: "apart",
    orderId,
    sentence:
      hours > days * 24 ? `${readable(hours)} h from ${orderId}` : `${counted(days, "day", "days")} from ${orderId}`,
    data: { days, hours },
  };
}
