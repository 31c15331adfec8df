import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../services/solver/compile.ts";
import { bestSignaturesOf, createGrounds, groundOf, outfitInput } from "../../services/solver/compileWork.ts";
import type { Problem } from "../../services/solver/problem.ts";
import { createWorkTable } from "../../services/solver/workTable.ts";
import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { type CycleDemand, leastCycleS, type Share, wholeMinutes } from "../../shared/fieldwork/cycle.ts";
import { gearOf } from "../../shared/fieldwork/flow.ts";
import type { Ground } from "../../shared/fieldwork/ground.ts";
import { demandOf, type OutfitInput, powerOf, workTimeOn } from "../../shared/fieldwork/workTime.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import { median, timed } from "./measure.ts";

const ordersPerCrew = 40;
const days = 7;
const runs = 5;

/** A block on the ground as a type flies it, an outfit of that type, and how the block is best shared out. */
interface Case {
  readonly ground: Ground;
  readonly outfit: OutfitInput;
  readonly demand: CycleDemand;
  readonly share: Share;
  readonly minutes: number;
}

/**
 * How fast the minutes of every block with every outfit are found, and how near a closed form comes to what is played load by load.
 * False when the closed form is ever longer than the play.
 */
export function benchFieldwork(orders: number): boolean {
  const operation = generateOperation({
    orders,
    crews: Math.max(1, Math.round(orders / ordersPerCrew)),
    days,
    seed: 1,
  });
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const signatures = allSignatures(problem);
  const grounds = problem.blocks.map(({ area, order }) => ({
    area,
    order: problem.orders[order]!,
    padPlaces: [0, 0, 0, 0],
  }));
  const pairs = grounds.length * signatures.length;
  console.log(`${orders} generated orders, ${grounds.length} blocks x ${signatures.length} outfits = ${pairs} pairs`);

  const freshMs: number[] = [];
  const againMs: number[] = [];
  for (let run = 0; run < runs; run++) {
    const table = createWorkTable(createGrounds(operation), problem.signatures, grounds);
    const all = () => {
      for (let block = 0; block < grounds.length; block++) for (const each of signatures) table.minutes(block, each);
    };
    freshMs.push(timed(all));
    againMs.push(timed(all));
  }
  tell("found from the polygon (swath plans, sorties, shares)", median(freshMs), pairs);
  tell("found again in the table", median(againMs), pairs);

  const cases = casesOf(problem, signatures);
  const playedMs = Array.from({ length: runs }, () =>
    timed(() => {
      for (const { ground, outfit } of cases) workTimeOn(ground, outfit);
    }),
  );
  const closedMs = Array.from({ length: runs }, () =>
    timed(() => {
      for (const one of cases) closedOf(one);
    }),
  );
  tell("played on prepared ground, the best share found", median(playedMs), cases.length);
  tell("closed form of that share", median(closedMs), cases.length);

  const shares = cases.map((one) => closedOf(one) / one.minutes).sort((a, b) => a - b);
  const at = (share: number) => (100 * shares[Math.round(share * (shares.length - 1))]!).toFixed(1);
  console.log(
    `closed form against play, %: least ${at(0)}, one in ten ${at(0.1)}, median ${at(0.5)}, nine in ten ${at(0.9)}, greatest ${at(1)}`,
  );
  return shares[shares.length - 1]! <= 1;
}

/** Minutes by the busiest station alone, for the share that the play found. */
function closedOf({ demand, share }: Case): number {
  return wholeMinutes(leastCycleS(demand, share, demand.beside.sumS(share.loads)));
}

function allSignatures(problem: Problem): number[] {
  const found = new Set<number>();
  problem.crews.forEach((_, crew) => {
    for (const option of problem.options[crew]!) {
      const { operation, equipment, signatures, baseOfCrew } = problem;
      for (const each of bestSignaturesOf(operation, equipment, signatures, baseOfCrew[crew]!, option)) found.add(each);
    }
  });
  return [...found];
}

function casesOf(problem: Problem, signatures: readonly number[]): Case[] {
  return problem.blocks.flatMap(({ area, order: orderIndex }) => {
    const order = problem.orders[orderIndex]!;
    const prepared = new Map<string, Ground>();
    return signatures.flatMap((signature) => {
      const kit = problem.signatures.at(signature);
      const outfit = outfitInput(kit, order);
      const gear = gearOf(kit.type, outfit.method, outfit.densityKgPerL);
      if (gear === undefined) return [];
      const ground = prepared.get(kit.type.id) ?? groundOf(problem.operation, { area, order }, kit.type, gear);
      prepared.set(kit.type.id, ground);
      const outcome = workTimeOn(ground, outfit);
      const power = powerOf(outfit);
      if (!outcome.ok || !power.ok) return [];
      const { padIndex, share, minutes, detail } = outcome;
      const demand = demandOf(ground, ground.pads[padIndex]!, outfit, detail.speedMps, power.battery);
      return [{ ground, outfit, demand, share, minutes }];
    });
  });
}

function tell(what: string, ms: number, count: number): void {
  console.log(`${what}: ${ms.toFixed(0)} ms, ${((1000 * ms) / count).toFixed(2)} µs each, median of ${runs} runs`);
}
