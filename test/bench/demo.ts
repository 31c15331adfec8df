import { fileURLToPath } from "node:url";
import { loadHighs } from "../../services/linear/highs.ts";
import { readScenario } from "../../services/scenario/read.ts";
import { compileProblem } from "../../services/solver/compile.ts";
import { explainConflicts } from "../../services/solver/explain.ts";
import { planOperation } from "../../services/solver/planOperation.ts";
import { polishWith } from "../../services/solver/polish.ts";
import { createRandom } from "../../services/solver/random.ts";
import { toPlan } from "../../services/solver/toPlan.ts";
import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan, Score } from "../../shared/plan/plan.ts";
import { scorePlan } from "../../shared/plan/score.ts";
import { scorePartNames, scorePartWords } from "../../shared/plan/scoreParts.ts";
import { moneyWords } from "../../shared/plan/words.ts";
import { dispatchByHand } from "./dispatcher.ts";

const demo = fileURLToPath(new URL("../../scenarios/demo", import.meta.url));

/** The demo's week by the planner, by the planner as if roads cost nothing, and by hand, all scored and checked alike. False when the checker finds anything. */
export async function benchDemo(seconds: number, seed: number): Promise<boolean> {
  const read = await readScenario(demo);
  if (!read.ok) throw new Error(`${demo} is refused`);
  const { operation } = read;
  const linear = await loadHighs();
  const planner = (searched: Operation): Plan => {
    const startedMs = performance.now();
    return planOperation(searched, {
      seed,
      random: createRandom(seed),
      polish: polishWith(linear, seconds),
      doneShare: () => (performance.now() - startedMs) / (1000 * seconds),
    });
  };
  const { settings } = operation;
  const freeRoads = { ...operation, settings: { ...settings, costs: { ...settings.costs, driveCentsPerKm: 0 } } };
  const blind = planner(freeRoads);
  const columns: [string, Plan][] = [
    ["the planner", planner(operation)],
    ["roads free", { ...blind, score: scorePlan(operation, blind) }],
    ["by hand", byHand(operation)],
  ];
  console.log(
    `${settings.name}: ${seconds} s of search, seed ${seed}; cost in ${settings.currency}, unplanned hectares included`,
  );
  console.log("roads free: the same search with no cost of driving, scored with it; by hand: test/bench/dispatcher.ts");
  console.log(`${"".padEnd(24)}${columns.map(([name]) => name.padStart(14)).join("")}`);
  const [best] = columns;
  for (const [name, words] of rows) {
    console.log(`${name.padEnd(24)}${columns.map(([, plan]) => words(plan).padStart(14)).join("")}`);
  }
  for (const [name, { score }] of columns.slice(1)) {
    const planned = best![1].score;
    console.log(
      `beside ${name}: ${signed(planned.servedHa - score.servedHa, 0)} ha, ${signed(planned.roadKm - score.roadKm, 0)} km, cost ${signed(100 * (planned.totalCents / score.totalCents - 1), 1)} %`,
    );
  }
  let isGood = true;
  for (const [name, plan] of columns) {
    const { ok, breaches } = checkPlan(operation, plan);
    for (const { rule, sentence } of breaches) console.log(`${name}: broken: ${rule}: ${sentence}`);
    isGood &&= ok;
  }
  console.log(isGood ? "the checker passes all three" : "NOT GOOD: the checker found breaches");
  return isGood;
}

function byHand(operation: Operation): Plan {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const problem = compileProblem(operation, calendar, agronomy);
  const state = dispatchByHand(problem);
  return toPlan(problem, state, explainConflicts(problem, agronomy, state), { seed: 0, iterations: 0 });
}

const money = (part: keyof Score) => (plan: Plan) => moneyWords(plan.score[part] ?? 0);
const rows: readonly (readonly [string, (plan: Plan) => string])[] = [
  ["hectares", ({ score }) => `${score.servedHa.toFixed(0)} of ${score.orderedHa.toFixed(0)}`],
  ["crew-days", ({ crewDays }) => String(crewDays.length)],
  ["road, km", ({ score }) => score.roadKm.toFixed(0)],
  ["road, km per 100 ha", ({ score }) => ((100 * score.roadKm) / score.servedHa).toFixed(1)],
  ["duty, h", ({ score }) => (score.dutyMin / 60).toFixed(1)],
  ["cost", money("totalCents")],
  ...scorePartNames.map((part) => [`  ${scorePartWords[part]}`, money(part)] as const),
];

function signed(value: number, digits: number): string {
  return `${value > 0 ? "+" : ""}${value.toFixed(digits)}`;
}
