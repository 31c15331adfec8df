import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../../services/solver/compile.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { solve } from "../../../services/solver/solve.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";

export interface WeekRequest {
  readonly what: "plan" | "iterations";
  readonly orders: number;
  readonly seed: number;
  /** Of the processor, for search, compiling included where a plan is made; 0: the first plan that is complete. */
  readonly seconds: number;
}

/** Times are the processor's own, which on a busy machine tells more than the clock. */
export interface WeekOutcome {
  readonly breaches: number;
  readonly costCents: number;
  readonly servedHa: number;
  readonly orderedHa: number;
  readonly iterations: number;
  /** From an operation in memory to the plan checked. */
  readonly wholeMs: number;
  /** The same by the clock on the wall. */
  readonly wallMs: number;
  /** From there to the first complete plan of the search, not yet checked. */
  readonly firstMs: number;
  /** In the loop of the search, the linear engine's work with it. */
  readonly loopMs: number;
  readonly peakMb: number;
}

/** As many orders for a crew as in the demo. */
export const ordersPerCrew = 20;
const days = 7;
const kbPerMb = 1024;

export async function runWeek({ what, orders, seed, seconds }: WeekRequest): Promise<WeekOutcome> {
  const crews = Math.max(1, Math.round(orders / ordersPerCrew));
  const operation = generateOperation({ orders, crews, days, seed });
  const linear = await loadHighs();
  const startedMs = performance.now();
  const startedCpu = process.cpuUsage();
  const sinceMs = () => {
    const { user, system } = process.cpuUsage(startedCpu);
    return (user + system) / 1000;
  };
  let firstMs = 0;
  let loopMs = 0;
  let iterations = 0;
  const progress = {
    onProgress: (told: { readonly iterations: number; readonly share: number }) => {
      if (firstMs === 0) firstMs = sinceMs();
      if (told.share < 1) return;
      iterations = told.iterations;
      loopMs = sinceMs() - firstMs;
    },
  };
  const peakMb = () => process.resourceUsage().maxRSS / kbPerMb;
  if (what === "iterations") {
    const calendar = createCalendar(operation.settings);
    const { routes } = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    // The loop alone: compiling and the first plan have the time that they take.
    const doneShare = () => (firstMs === 0 ? 0 : (sinceMs() - firstMs) / (1000 * seconds));
    solve(routes, { random: createRandom(seed), doneShare, ...progress });
    return {
      breaches: 0,
      costCents: 0,
      servedHa: 0,
      orderedHa: 0,
      iterations,
      wholeMs: sinceMs(),
      wallMs: performance.now() - startedMs,
      firstMs,
      loopMs,
      peakMb: peakMb(),
    };
  }
  const plan = planOperation(operation, {
    seed,
    random: createRandom(seed),
    ...(seconds === 0 ? {} : { polish: polishWith(linear, seconds) }),
    doneShare: () => (seconds === 0 ? 1 : sinceMs() / (1000 * seconds)),
    ...progress,
  });
  const { breaches } = checkPlan(operation, plan);
  const wholeMs = sinceMs();
  const wallMs = performance.now() - startedMs;
  for (const { rule, sentence } of breaches.slice(0, 3)) console.error(`${orders} orders: ${rule}: ${sentence}`);
  const { totalCents, servedHa, orderedHa } = plan.score;
  return {
    breaches: breaches.length,
    costCents: totalCents,
    servedHa,
    orderedHa,
    iterations,
    wholeMs,
    wallMs,
    firstMs,
    loopMs,
    peakMb: peakMb(),
  };
}
