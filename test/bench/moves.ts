import { fileURLToPath } from "node:url";
import { createMover } from "../../services/moves/mover.ts";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { readScenario } from "../../services/scenario/read.ts";
import type { Move } from "../../shared/contracts/moves.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { worksOf } from "../../shared/plan/totals.ts";
import { planned } from "../support/planned.ts";
import { seededRandom } from "../support/seededRandom.ts";
import { median } from "./measure.ts";
import { ordersPerCrew } from "./weeks/runWeek.ts";

export interface MovesOptions {
  readonly orders: number;
  readonly moves: number;
  readonly iterations: number;
}

const demoFolder = fileURLToPath(new URL("../../scenarios/demo", import.meta.url));

/** How long a move by hand waits for its answer, on the demo and on a generated week. False when an answer fails. */
export async function benchMoves({ orders, moves, iterations }: MovesOptions): Promise<boolean> {
  const demo = await readScenario(demoFolder);
  if (!demo.ok) throw new Error("the demo is faulty");
  const crews = Math.max(1, Math.round(orders / ordersPerCrew));
  const weeks: [string, Operation][] = [
    ["demo", demo.operation],
    [`${orders} orders`, generateOperation({ orders, crews, days: 7, seed: 1 })],
  ];
  console.log(
    `${moves} moves of each kind; milliseconds by the clock, and of the processor, which on a busy machine tells more`,
  );
  console.log("  week          kind        first   median      p95   cpu first   median      p95   allowed");
  let failed = 0;
  for (const [name, operation] of weeks) {
    const plan = planned(operation, iterations);
    for (const kind of ["asked", "kept", "to a minute"] as const) {
      const mover = createMover({ onError: (error) => console.error(error) });
      const random = seededRandom(1);
      const times: number[] = [];
      const cpuTimes: number[] = [];
      let allowed = 0;
      for (let at = 0; at <= moves; at++) {
        const startedMs = performance.now();
        const startedCpu = process.cpuUsage();
        const asked = await mover.move({
          operationKey: name,
          planId: name,
          moves: [anyMove()],
          isKept: kind === "kept",
          readOperation: async () => operation,
          readPlan: async () => plan,
        });
        times.push(performance.now() - startedMs);
        const { user, system } = process.cpuUsage(startedCpu);
        cpuTimes.push((user + system) / 1000);
        if (asked.status !== "answered") failed++;
        else if (asked.answer.judgement.allowed) allowed++;
      }
      console.log(
        `  ${name.padEnd(13)} ${kind.padEnd(11)}${figures(times)}    ${figures(cpuTimes)}   ${allowed} of ${moves + 1}`,
      );
      await mover.close();

      function anyMove(): Move {
        const pick = <Item>(items: readonly Item[]): Item => items[Math.floor(random() * items.length)]!;
        const from = pick(plan.crewDays);
        const work = pick(worksOf(from));
        const { crewId, date } = kind === "to a minute" ? from : pick(plan.crewDays);
        if (kind !== "to a minute") return { blockId: work.blockId, to: { crewId, date } };
        const startAt = new Date(Date.parse(`${operation.settings.firstDay}T00:00Z`) + 60_000 * (work.startMin + 5));
        return { blockId: work.blockId, to: { crewId, date, startAt: startAt.toISOString().slice(0, 16) } };
      }
    }
  }
  return failed === 0;
}

/** The first answer, and of the others the median and the 95th of a hundred. */
function figures([first, ...warm]: readonly number[]): string {
  const p95 = warm.toSorted((a, b) => a - b)[Math.ceil(0.95 * warm.length) - 1]!;
  return [first!, median(warm), p95].map((ms) => ms.toFixed(0).padStart(8)).join(" ");
}
