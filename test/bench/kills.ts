import { setTimeout as sleep } from "node:timers/promises";
import { createRandom } from "../../services/solver/random.ts";
import { connectStore } from "../../services/store/connect.ts";
import { judgeCaseSet } from "../../shared/cases/judgeCaseSet.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { worksOf } from "../../shared/plan/totals.ts";
import { acting, madeBy } from "../support/acting.ts";
import { smallOperation } from "../support/operation.ts";
import { planned } from "../support/planned.ts";
import { temporaryFolder } from "../support/servers.ts";
import { tokenOf } from "../support/tokens.ts";
import { lookAfterwards } from "./kills/afterwards.ts";
import { type Acknowledged, createTold, insist, report } from "./kills/customers.ts";
import { buildHouse, type House, type Server } from "./kills/house.ts";
import { countsText } from "./measure.ts";

export interface KillsOptions {
  readonly kills: number;
  readonly seed: number;
  /** Seconds after the last kill within which everything has to be done. */
  readonly within: number;
}

/** So many that are not finished are asked for at once; more would only wait. */
const mostOpen = 16;
const customers = 4;

/**
 * Kills every kind of server, in any order and at any moment, while customers ask for plans and studies and phones report; then everything that was acknowledged has to be there and done, once. True when it is.
 */
export async function benchKills({ kills, seed, within }: KillsOptions): Promise<boolean> {
  const random = createRandom(seed);
  const { folder, remove } = temporaryFolder();
  const house = await buildHouse(folder, 2, "a secret of the bench that is long enough for signing");
  const told = createTold();
  try {
    const { operationId, caseSetId, headers, day, acknowledged } = await stock(house);
    told.acknowledged.push(acknowledged);
    await reachable(house, headers);
    let isOver = false;
    const customer = async () => {
      while (!isOver) {
        const { unfinished } = await lookAfterwards(house.databaseUrl, []).catch(() => ({ unfinished: 0 }));
        if (unfinished >= mostOpen) {
          await sleep(200);
          continue;
        }
        const sendsAgain = random() < 0.3;
        if (random() < 0.8) {
          const body = { iterations: 20 + Math.floor(random() * 400), seed: told.acknowledged.length };
          await insist(told, "plan", `${house.origin}/api/operations/${operationId}/plans`, body, headers, sendsAgain);
        } else {
          await insist(
            told,
            "study",
            `${house.origin}/api/case-sets/${caseSetId}/studies`,
            { iterations: 50 },
            headers,
            sendsAgain,
          );
        }
      }
    };
    const phone = async () => {
      const url = `${house.origin}/api/operations/${operationId}/crews/${day.crewId}/days/${day.date}/reports`;
      while (!isOver) {
        await report(told, url, day.blockId, headers, random() < 0.3);
        await sleep(500 * random());
      }
    };
    const beganMs = performance.now();
    const all = Promise.all([...Array.from({ length: customers }, customer), phone()]);
    const killed = await killAround(house, kills, random);
    isOver = true;
    await all;
    const tookS = (performance.now() - beganMs) / 1000;
    const after = await settled(house, told.acknowledged, within);
    const faults = [
      ...told.faults,
      ...after.faults,
      ...(after.unfinished > 0 ? [`${after.unfinished} are not done`] : []),
    ];
    console.log(`${kills} kills in ${tookS.toFixed(0)} s: ${countsText(killed)}`);
    console.log(`answers: ${countsText(told.answers)}`);
    const count = (wanted: string) => told.acknowledged.filter(({ kind }) => kind === wanted).length;
    console.log(
      `acknowledged: ${count("plan")} plans, ${count("study")} studies, ${count("report")} reports; all done ${after.secondsAfter.toFixed(1)} s after the last kill`,
    );
    console.log(`begun so often: ${countsText(after.starts)}`);
    for (const fault of faults.slice(0, 20)) console.log(`NOT GOOD: ${fault}`);
    console.log(faults.length === 0 ? "nothing lost, nothing doubled" : `${faults.length} faults; logs in ${folder}`);
    return faults.length === 0;
  } finally {
    await house.stop();
    if (told.faults.length === 0) remove();
  }
}

const operationOfBench = smallOperation({ settings: { name: "killed about" } });

/** An operation, a set of cases, a plan that crews were told and somebody who may do everything with them, straight into the store. */
async function stock(house: House) {
  const store = await connectStore({ databaseUrl: house.databaseUrl, onConnectionError: () => undefined });
  try {
    const { operation } = await store.importOperation(operationOfBench, acting);
    const cases = [1, 2].map((count) => ({
      id: `more-${count}`,
      name: `${count} more`,
      changes: [{ kind: "addAircraft", typeId: operationOfBench.fleet.aircraftTypes[0]!.id, baseId: "B1", count }],
    }));
    const judged = judgeCaseSet(
      { name: "two", cases: { formatVersion: 1, weeksPerYear: 20, interestPct: 5, cases } },
      operationOfBench,
    );
    if (!judged.ok) throw new Error(JSON.stringify(judged.faults));
    const { document } = judged;
    const { caseSet } = await store.importCaseSet({ operationId: operation.id, name: "two", document }, acting);
    const { headers } = await tokenOf(store, ["dispatcher", "owner"]);
    const once = { key: "stock", digest: "stock" };
    const request = await madeBy(
      store.addPlanRequest(
        { operationId: operation.id, version: 1, budget: { iterations: 1 }, seed: 1 },
        { ...acting, once },
      ),
    );
    const plan = planned(operationOfBench, 1);
    await store.startRequest(request.id);
    await store.finishRequest(request.id, { status: "done", plan, report: checkPlan(operationOfBench, plan) });
    await store.publish(request.id, 0, "", acting);
    const [crewDay] = plan.crewDays;
    const { blockId } = worksOf(crewDay!)[0]!;
    return {
      operationId: operation.id,
      caseSetId: caseSet.id,
      headers,
      day: { crewId: crewDay!.crewId, date: crewDay!.date, blockId },
      acknowledged: { kind: "plan", key: once.key, id: request.id } as const,
    };
  } finally {
    await store.close();
  }
}

async function killAround(house: House, kills: number, random: () => number): Promise<Map<string, number>> {
  const { postgres, redis, api, workers } = house.servers;
  const kinds: readonly (readonly Server[])[] = [[postgres], [redis], [api], workers];
  const killed = new Map<string, number>();
  for (let kill = 0; kill < kills; kill++) {
    await sleep(random() * 3_000);
    const kind = kinds[Math.floor(random() * kinds.length)]!;
    const victim = kind[Math.floor(random() * kind.length)]!;
    await victim.kill();
    let name = victim.name.replace(/\d/, "");
    if (victim === redis && random() < 0.25) {
      house.loseQueue();
      name = "redis with all it held";
    }
    killed.set(name, (killed.get(name) ?? 0) + 1);
    // Some are back at once, others stay away for a while.
    await sleep(random() < 0.5 ? 0 : random() * 4_000);
    victim.start();
  }
  return killed;
}

async function reachable({ origin }: House, headers: Readonly<Record<string, string>>): Promise<void> {
  for (let tried = 0; ; tried++) {
    const answer = await fetch(`${origin}/api/operations`, { headers }).catch(() => null);
    if (answer?.ok) return;
    if (tried === 300) throw new Error(`the API does not answer: ${answer?.status}`);
    await sleep(200);
  }
}

/** Waits until everything is done, and tells what is there then. */
async function settled(house: House, promised: readonly Acknowledged[], within: number) {
  const beganMs = performance.now();
  for (;;) {
    const after = await lookAfterwards(house.databaseUrl, promised);
    const secondsAfter = (performance.now() - beganMs) / 1000;
    if (after.unfinished === 0 || secondsAfter > within) return { ...after, secondsAfter };
    await sleep(500);
  }
}
