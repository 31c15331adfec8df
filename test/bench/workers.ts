import { type ChildProcess, spawn } from "node:child_process";
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import pg from "pg";
import { connectQueue } from "../../services/queue/connect.ts";
import { partPiece } from "../../services/queue/pieces.ts";
import { partQueue } from "../../services/queue/queue.ts";
import { readScenario } from "../../services/scenario/read.ts";
import { connectStore } from "../../services/store/connect.ts";
import type { CasesFile } from "../../shared/cases/cases.ts";
import { casePartsOf, fileAsAsked } from "../../shared/cases/casesStudy.ts";
import { hasEnded } from "../../shared/contracts/planRequests.ts";
import { acting, madeBy } from "../support/acting.ts";
import { isInstalled } from "../support/needs.ts";
import { eventually, startTestDatabase, startTestRedis } from "../support/servers.ts";
import { median } from "./measure.ts";

export interface WorkersOptions {
  readonly cases: number;
  readonly iterations: number;
  readonly rounds: number;
}

const main = fileURLToPath(new URL("../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../scenarios/small", import.meta.url));
const endsWithinMs = 600_000;

/** The wind a little stronger from case to case. */
function casesFile(count: number, iterations: number): CasesFile {
  const cases = Array.from({ length: count }, (_, at) => ({
    id: `wind-${at}`,
    name: `Wind ${at}`,
    changes: [{ kind: "changeWeather" as const, windFactor: 0.7 + (0.6 * at) / count }],
  }));
  return { formatVersion: 1, cases, budget: { iterations }, seeds: 1, weeksPerYear: 30, interestPct: 5 } as CasesFile;
}

/** A batch of cases worked by one worker process and by two, in turn; false when a case was begun twice or came to something else. */
export async function benchWorkers(options: WorkersOptions): Promise<boolean> {
  console.log(
    `${options.cases} cases and the base, ${options.iterations} iterations each; load before: ${loadavg()[0]!.toFixed(1)}`,
  );
  const inPostgres = await benchBackend("Postgres", null, options);
  if (!isInstalled("redis-server")) {
    console.log("Redis: not run, there is no redis-server");
    return inPostgres;
  }
  const redis = await startTestRedis();
  try {
    return (await benchBackend("Redis", redis.redisUrl, options)) && inPostgres;
  } finally {
    await redis.stop();
  }
}

async function benchBackend(name: string, redisUrl: string | null, options: WorkersOptions): Promise<boolean> {
  const { cases, iterations, rounds } = options;
  const database = await startTestDatabase();
  const { databaseUrl } = database;
  const onConnectionError = () => undefined;
  const store = await connectStore({ databaseUrl, onConnectionError });
  const front = await connectQueue({ kind: partQueue(1), databaseUrl, redisUrl, onConnectionError });
  const counting = new pg.Client({ connectionString: databaseUrl });
  await counting.connect();
  const read = await readScenario(small);
  if (!read.ok) throw new Error("the scenario is refused");
  const { operation } = await store.importOperation(read.operation, acting);

  const study = async (count: number) => {
    const name = `${count} cases`;
    const document = { name, cases: casesFile(count, iterations) };
    const { caseSet } = await store.importCaseSet({ operationId: operation.id, name, document }, acting);
    const ask = { budget: { iterations }, seeds: 1, weeks: null };
    const parts = casePartsOf(read.operation, fileAsAsked(document.cases, ask), ask);
    const asked = {
      kind: "cases" as const,
      operationId: operation.id,
      version: operation.version,
      caseSet,
      ask,
      parts,
    };
    const { id } = await madeBy(store.addStudy(asked, acting));
    const beganMs = performance.now();
    await front.addInTurn((await store.turnsOf(id)).map(partPiece));
    const ended = await eventually(async () => {
      const told = (await store.study(id))!;
      return hasEnded(told.status) ? told : null;
    }, endsWithinMs);
    const seconds = (performance.now() - beganMs) / 1000;
    if (ended.status !== "done" || ended.progress.failed > 0)
      throw new Error(`the study has come to ${ended.status}: ${ended.failure?.message ?? "runs have failed"}`);
    const { rows } = await counting.query<{ most: number; parts: number }>(
      "select max(starts) as most, count(*)::int as parts from study_parts where study_id = $1",
      [id],
    );
    return { seconds, result: JSON.stringify(ended.result), ...rows[0]! };
  };

  const seconds: Record<1 | 2, number[]> = { 1: [], 2: [] };
  const results = new Set<string>();
  let most = 0;
  let running: ChildProcess[] = [];
  try {
    for (let round = 0; round < rounds; round++) {
      for (const workers of [1, 2] as const) {
        running = await Promise.all(Array.from({ length: workers }, () => startWorker(databaseUrl, redisUrl)));
        // So that each has a thread ready.
        await study(4 * workers);
        const ran = await study(cases);
        seconds[workers].push(ran.seconds);
        console.error(`${name}, ${workers} at work: ${ran.seconds.toFixed(1)} s, load ${loadavg()[0]!.toFixed(1)}`);
        results.add(ran.result);
        most = Math.max(most, ran.most);
        for (const worker of running) await stop(worker);
      }
    }
  } finally {
    for (const worker of running) worker.kill("SIGKILL");
    await counting.end();
    await front.close();
    await store.close();
    await database.stop();
  }

  const [one, two] = [median(seconds[1]), median(seconds[2])];
  const words = (all: readonly number[]) => all.map((value) => value.toFixed(1)).join(", ");
  console.log(
    [
      `${name}: one worker ${one.toFixed(1)} s (${words(seconds[1])}), two ${two.toFixed(1)} s (${words(seconds[2])}): ${(one / two).toFixed(2)} times as fast;`,
      `a case begun ${most === 1 ? "once" : `up to ${most} times`}; ${results.size === 1 ? "the same result every time" : `${results.size} different results`}`,
    ].join(" "),
  );
  return most === 1 && results.size === 1;
}

async function startWorker(databaseUrl: string, redisUrl: string | null): Promise<ChildProcess> {
  const worker = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), main, "worker"], {
    stdio: ["ignore", "pipe", "inherit"],
    // One run at once, so that two processes are what makes the difference.
    env: {
      ...process.env,
      DATABASE_URL: databaseUrl,
      REDIS_URL: redisUrl ?? "",
      CALMHOUR_RUNS: "1",
      CALMHOUR_THREADS: "1",
      CALMHOUR_DRAIN_SECONDS: "0",
    },
  });
  await new Promise<void>((resolve, reject) => {
    worker.stdout.once("data", () => resolve());
    worker.once("exit", (code) => reject(new Error(`a worker has ended with ${code}`)));
  });
  return worker;
}

async function stop(worker: ChildProcess): Promise<void> {
  worker.removeAllListeners("exit");
  const ended = new Promise<void>((resolve) => worker.once("exit", () => resolve()));
  worker.kill("SIGTERM");
  await ended;
}
