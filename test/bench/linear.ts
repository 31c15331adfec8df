import { loadHighs } from "../../services/linear/highs.ts";
import { javascriptLpSolver } from "../../services/linear/javascriptLpSolver.ts";
import { appendColumns, type LinearModel } from "../../services/solver/linear/model.ts";
import type { LinearOutcome, LinearSolver, SolveOptions } from "../../services/solver/linear/solver.ts";
import { denseModel, packingModel } from "../support/linearModels.ts";
import { median } from "./measure.ts";

const runs = 3;
const timeLimitS = 2.5;
/** An engine that takes longer is not asked about larger models of the kind. */
const patienceMs = 1000;

interface Kind {
  readonly name: string;
  readonly sizes: readonly (readonly [rows: number, columns: number])[];
  readonly make: (rows: number, columns: number, seed: number) => LinearModel;
  readonly options: SolveOptions;
}

const packing = (rows: number, columns: number, seed: number) =>
  packingModel(rows, columns, Math.max(2, Math.round(Math.log2(rows)) - 1), seed);

const kinds: readonly Kind[] = [
  {
    name: "packing, fractions",
    sizes: [
      [10, 30],
      [20, 80],
      [40, 200],
      [80, 500],
      [150, 1500],
      [300, 5000],
    ],
    make: packing,
    options: { relaxed: true },
  },
  {
    name: "packing, whole numbers",
    sizes: [
      [6, 12],
      [10, 30],
      [15, 50],
      [20, 80],
      [30, 120],
      [40, 200],
    ],
    make: packing,
    options: {},
  },
  {
    name: "dense, fractions",
    sizes: [
      [5, 5],
      [10, 10],
      [20, 20],
      [40, 40],
      [80, 80],
      [160, 160],
      [320, 320],
    ],
    make: denseModel,
    options: {},
  },
];

/** Both engines on the same models, checked against each other before they are timed; false when an answer is wrong or they disagree. */
export async function benchLinear(): Promise<boolean> {
  const startMs = performance.now();
  const highs = await loadHighs();
  console.log(`loading HiGHS: ${(performance.now() - startMs).toFixed(0)} ms by the clock`);
  const engines = [highs, javascriptLpSolver];
  // The first solves pay for what V8 compiles on the way.
  for (const engine of engines) for (let seed = 0; seed < 30; seed++) engine.solve(packing(10, 30, seed));
  const isRight = kinds.map((kind) => benchKind(kind, engines));
  return [...isRight, benchGrowth(highs)].every(Boolean);
}

function benchKind({ name, sizes, make, options }: Kind, engines: readonly LinearSolver[]): boolean {
  console.log(
    `\n${name}: milliseconds of the processor, medians of ${runs}\n     rows  columns     HiGHS  javascript-lp-solver`,
  );
  const isAsked = engines.map(() => true);
  let isRight = true;
  for (const [rows, columns] of sizes) {
    const times: number[][] = engines.map(() => []);
    for (let seed = 1; seed <= runs; seed++) {
      const model = make(rows, columns, seed);
      const outcomes: LinearOutcome[] = [];
      engines.forEach((engine, index) => {
        if (!isAsked[index]) return;
        times[index]!.push(processorMs(() => outcomes.push(engine.solve(model, { ...options, timeLimitS }))));
      });
      if (!agree(outcomes)) {
        isRight = false;
        console.log(
          `disagreement: ${name} ${rows} x ${columns} seed ${seed}: ${JSON.stringify(outcomes).slice(0, 300)}`,
        );
      }
    }
    const medians = times.map((values) => (values.length === 0 ? Number.NaN : median(values)));
    medians.forEach((ms, index) => {
      if (ms > patienceMs) isAsked[index] = false;
    });
    const [ours, theirs] = medians.map((ms) => (Number.isNaN(ms) ? "-" : ms.toFixed(1)));
    console.log(
      `${String(rows).padStart(9)}${String(columns).padStart(9)}${ours!.padStart(10)}${theirs!.padStart(22)}`,
    );
  }
  return isRight;
}

/** Proven answers cost the same, others not less; a limit of time is no fault. */
function agree(outcomes: readonly LinearOutcome[]): boolean {
  const found = outcomes.flatMap((outcome) => ("objective" in outcome ? [outcome] : []));
  const proven = found.find(({ status }) => status === "optimal")?.objective;
  return (
    outcomes.every(({ status }) => status === "optimal" || status === "feasible" || status === "stopped") &&
    found.every(({ status, objective }) => {
      if (proven === undefined) return true;
      const difference = (objective - proven) / Math.abs(proven);
      return status === "optimal" ? Math.abs(difference) < 1e-6 : difference > -1e-6;
    })
  );
}

/** A model that grows, as in column generation: solved on from the last basis, and from nothing. */
function benchGrowth(highs: LinearSolver): boolean {
  const [rows, columns, rounds, added] = [150, 1500, 20, 100];
  let model = packing(rows, columns, 1);
  const open = highs.open(model);
  open.solve({ relaxed: true });
  const [warm, cold]: [number[], number[]] = [[], []];
  let isRight = true;
  for (let round = 0; round < rounds; round++) {
    const batch = packing(rows, added, 2 + round).columns;
    model = appendColumns(model, batch);
    const outcomes: LinearOutcome[] = [];
    warm.push(
      processorMs(() => {
        open.addColumns(batch);
        outcomes.push(open.solve({ relaxed: true }));
      }),
    );
    cold.push(processorMs(() => outcomes.push(highs.solve(model, { relaxed: true }))));
    isRight &&= agree(outcomes);
  }
  open.dispose();
  console.log(
    `\n${rows} x ${columns}, ${rounds} rounds of ${added} columns more, HiGHS: ${median(warm).toFixed(1)} ms from the last basis, ${median(cold).toFixed(1)} ms from nothing`,
  );
  return isRight;
}

/** On a busy machine the processor's own time tells more than the clock. */
function processorMs(run: () => void): number {
  const start = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}
