import { spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partId, requestPiece } from "../../../services/queue/pieces.ts";
import { lastTurn, partQueue, planQueue, type WorkHandler, type WorkQueue } from "../../../services/queue/queue.ts";
import { firstTurn } from "../../../services/store/turns.ts";
import { isInstalled, nameNeeding } from "../../support/needs.ts";
import { eventually, startTestDatabase, startTestRedis } from "../../support/servers.ts";

interface Backend {
  readonly databaseUrl: string;
  readonly redisUrl: string | null;
  readonly stop: () => Promise<void>;
}
const onConnectionError = () => undefined;
const holderScript = fileURLToPath(new URL("./holdRequest.ts", import.meta.url));

async function postgresBackend(): Promise<Backend> {
  const { databaseUrl, stop } = await startTestDatabase();
  return { databaseUrl, redisUrl: null, stop };
}

async function redisBackend(): Promise<Backend> {
  const { redisUrl, stop } = await startTestRedis();
  return { databaseUrl: "postgres://unused", redisUrl, stop };
}

describe("a queue on Postgres", () => conforms(postgresBackend));
describe.runIf(isInstalled("redis-server"))(nameNeeding("redis-server", "a queue on Redis"), () =>
  conforms(redisBackend),
);

/** What every backend promises (queue.ts). */
function conforms(start: () => Promise<Backend>): void {
  let backend: Backend;
  let opened: WorkQueue[] = [];
  const open = async (kind = planQueue) => {
    const { databaseUrl, redisUrl } = backend;
    const queue = await connectQueue({ kind, databaseUrl, redisUrl, onConnectionError });
    opened.push(queue);
    return queue;
  };
  beforeAll(async () => {
    backend = await start();
  });
  afterEach(async () => {
    await Promise.all(opened.map((queue) => queue.close()));
    opened = [];
  });
  afterAll(() => backend.stop());

  it("hands out what is added by another process's queue, once each, one at a time, in order", async () => {
    const [front, back] = [await open(), await open()];
    const ids = Array.from({ length: 5 }, () => randomUUID());
    const worked: string[] = [];
    let atOnce = 0;
    let most = 0;
    await front.add(...ids);
    await back.process(async (id) => {
      most = Math.max(most, ++atOnce);
      await new Promise((resolve) => setTimeout(resolve, 20));
      worked.push(id);
      atOnce--;
      return "ended";
    });
    await eventually(() => (worked.length >= 5 ? true : null));
    expect(worked).toEqual(ids);
    expect(most).toBe(1);
  });

  it("works as many at once as its kind says, and nothing of another kind", async () => {
    const [plans, parts] = [await open(), await open(partQueue(3))];
    const ids = Array.from({ length: 7 }, (_, part) => partId({ studyId: randomUUID(), part }));
    const ofPlans: string[] = [];
    const worked: string[] = [];
    let atOnce = 0;
    let most = 0;
    await plans.process(async (id) => {
      ofPlans.push(id);
      return "ended";
    });
    await parts.process(async (id) => {
      most = Math.max(most, ++atOnce);
      await new Promise((resolve) => setTimeout(resolve, 300));
      worked.push(id);
      atOnce--;
      return "ended";
    });
    await parts.add(...ids);
    const plan = randomUUID();
    await plans.add(plan);
    await eventually(() => (worked.length >= 7 && ofPlans.length > 0 ? true : null));
    expect(worked.toSorted()).toEqual(ids.toSorted());
    expect(most).toBe(3);
    expect(ofPlans).toEqual([plan]);
  });

  it("begins nothing while it is held, lets go on what runs, and goes on when it is released", async () => {
    const queue = await open(partQueue(2));
    const ids = Array.from({ length: 6 }, () => randomUUID());
    const begun: string[] = [];
    const ended: string[] = [];
    const releases = new Map<string, () => void>();
    await queue.process(async (id) => {
      begun.push(id);
      await new Promise<void>((resolve) => releases.set(id, resolve));
      ended.push(id);
      return "ended";
    });
    const end = (id: string) => releases.get(id)!();
    await queue.add(...ids);
    await eventually(() => (begun.length === 2 ? true : null));
    queue.hold();
    for (const id of [...begun]) end(id);
    await eventually(() => (ended.length === 2 ? true : null));
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(begun).toHaveLength(2);

    queue.release();
    for (let next = 2; next < ids.length; next++) {
      await eventually(() => (begun.length > next ? true : null));
      end(begun[next]!);
    }
    await eventually(() => (ended.length === ids.length ? true : null));
    expect(begun.toSorted()).toEqual(ids.toSorted());
  });

  it("that is held is closed all the same, and gives back what ran and what waited", async () => {
    const queue = await open(partQueue(2));
    const ids = [randomUUID(), randomUUID()];
    const handler: WorkHandler = async (id, signal) => {
      begun.push(id);
      if (!signal.aborted) await new Promise<void>((resolve) => signal.addEventListener("abort", () => resolve()));
      expect(signal.reason).toBe("shutdown");
      return "giveBack";
    };
    const begun: string[] = [];
    await queue.process(handler);
    await queue.add(ids[0]!);
    await eventually(() => (begun.length === 1 ? true : null));
    queue.hold();
    await queue.add(ids[1]!);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(begun).toHaveLength(1);
    await queue.close();
    const next = await open(partQueue(2));
    const taken: string[] = [];
    await next.process(async (takenId) => {
      taken.push(takenId);
      return "ended";
    });
    await eventually(() => (taken.length === 2 ? true : null), 5_000);
    expect(taken.toSorted()).toEqual(ids.toSorted());
  });

  it("that is held still hears that what waits is cancelled", async () => {
    const queue = await open(partQueue(2));
    const ids = [randomUUID(), randomUUID()];
    const begun: string[] = [];
    await queue.process(async (id, signal) => {
      begun.push(`${id} ${String(signal.reason)}`);
      return "ended";
    });
    queue.hold();
    await queue.add(...ids);
    await new Promise((resolve) => setTimeout(resolve, 300));
    await queue.cancel(ids[1]!);
    await eventually(() => (begun.length > 0 ? true : null));
    expect(begun).toEqual([`${ids[1]} cancelled`]);
    queue.release();
    await eventually(() => (begun.length === 2 ? true : null));
  });

  it("begins planning again before plans that came earlier", async () => {
    const queue = await open();
    const [first, plan, replan] = [randomUUID(), randomUUID(), randomUUID()];
    const worked: string[] = [];
    let release = () => {};
    const released = new Promise<void>((resolve) => {
      release = resolve;
    });
    await queue.process(async (id) => {
      worked.push(id);
      await released;
      return "ended";
    });
    await queue.addInTurn([requestPiece({ id: first, kind: "plan" })]);
    await eventually(() => (worked.length === 1 ? true : null));
    await queue.addInTurn([requestPiece({ id: plan, kind: "plan" })]);
    await queue.addInTurn([requestPiece({ id: replan, kind: "replan" })]);
    release();
    await eventually(() => (worked.length === 3 ? true : null));
    expect(worked).toEqual([first, replan, plan]);
  });

  it("begins the least turn first, of the same turn what came first, also what came later; a turn once given is kept", async () => {
    const queue = await open();
    const [first, second, third, last, urgent] = Array.from({ length: 5 }, () => randomUUID());
    const worked: string[] = [];
    let release = () => {};
    const released = new Promise<void>((resolve) => {
      release = resolve;
    });
    await queue.addInTurn([{ id: first!, turn: 1 }]);
    await queue.process(async (id) => {
      worked.push(id);
      await released;
      return "ended";
    });
    await eventually(() => (worked.length === 1 ? true : null));
    await queue.addInTurn([{ id: last!, turn: lastTurn + 5 }]);
    await queue.addInTurn([second!, third!].map((id) => ({ id, turn: 1 })));
    await queue.add(urgent!);
    await queue.addInTurn([{ id: last!, turn: 0 }]);
    release();
    await eventually(() => (worked.length === 5 ? true : null));
    expect(worked).toEqual([first, urgent, second, third, last]);
  });

  it("lets two batches that come one after the other share its workers evenly, the small one in front of most of the large", async () => {
    const [front, one, other] = [await open(partQueue(1)), await open(partQueue(1)), await open(partQueue(1))];
    const begun: string[] = [];
    const handler: WorkHandler = async (id) => {
      begun.push(id.split(" ")[0]!);
      await new Promise((resolve) => setTimeout(resolve, 5));
      return "ended";
    };
    const turns = (name: string, count: number, leastWaiting: number | null) => {
      const first = firstTurn({ leastWaiting, mostRunning: null });
      return Array.from({ length: count }, (_, part) => ({ id: `${name} ${randomUUID()}`, turn: first + part }));
    };
    const large = turns("large", 120, null);
    await front.addInTurn(large);
    await one.process(handler);
    await other.process(handler);
    const before = await eventually(() => (begun.length >= 20 ? begun.length : null));
    await front.addInTurn(turns("small", 30, large[before]!.turn));
    await eventually(() => (begun.length === 150 ? true : null), 25_000);
    const ended = begun.lastIndexOf("small") + 1;
    const shared = begun.slice(begun.indexOf("small"), ended);
    // 60 would be an even share; some of the large one are begun while the small one is being added.
    expect(shared.length).toBeGreaterThanOrEqual(50);
    expect(shared.length).toBeLessThanOrEqual(75);
  });

  it("takes a request once, however often it is added while it waits or runs, and again after it has ended", async () => {
    const queue = await open();
    const id = randomUUID();
    let worked = 0;
    let release = () => {};
    await queue.add(id);
    await queue.add(id);
    expect(await queue.size()).toBe(1);
    await queue.process(async () => {
      worked++;
      await new Promise<void>((resolve) => {
        release = resolve;
      });
      return "ended";
    });
    await eventually(() => (worked === 1 ? true : null));
    await queue.add(id);
    release();
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(worked).toBe(1);
    await queue.add(id);
    await eventually(() => (worked === 2 ? true : null));
    release();
  });

  it("tells whichever worker runs a request that it is cancelled, and only that request", async () => {
    const [front, one, other] = [await open(), await open(), await open()];
    const ids = [randomUUID(), randomUUID()];
    const begun = new Set<string>();
    const stopped = new Map<string, unknown>();
    const handler: WorkHandler = async (id, signal) => {
      begun.add(id);
      await new Promise<void>((resolve) => signal.addEventListener("abort", () => resolve()));
      stopped.set(id, signal.reason);
      return "ended";
    };
    await one.process(handler);
    await other.process(handler);
    for (const id of ids) await front.add(id);
    await eventually(() => (begun.size === 2 ? true : null));
    await front.cancel(ids[1]!);
    await eventually(() => (stopped.size > 0 ? true : null));
    expect([...stopped]).toEqual([[ids[1], "cancelled"]]);
    await front.cancel(ids[0]!);
    await eventually(() => (stopped.size === 2 ? true : null));
  });

  it("gives a request back when its worker shuts down, for another to take at once", async () => {
    const [front, first] = [await open(), await open()];
    const id = randomUUID();
    let reason: unknown;
    let begun = false;
    await first.process(async (_id, signal) => {
      begun = true;
      await new Promise<void>((resolve) => signal.addEventListener("abort", () => resolve()));
      reason = signal.reason;
      return "giveBack";
    });
    await front.add(id);
    await eventually(() => (begun ? true : null));
    await first.close();
    expect(reason).toBe("shutdown");

    const second = await open();
    const taken: string[] = [];
    await second.process(async (takenId) => {
      taken.push(takenId);
      return "ended";
    });
    await eventually(() => (taken.length > 0 ? true : null), 5_000);
    expect(taken).toEqual([id]);
  });

  it("lets what runs come to its end when it is closed with time to spare, takes nothing new, and hurries when told", async () => {
    for (const isHurried of [false, true]) {
      const queue = await open(partQueue(1));
      const [first, second] = [randomUUID(), randomUUID()];
      const begun: string[] = [];
      let end = () => {};
      let reason: unknown = "none";
      await queue.process(async (id, signal) => {
        begun.push(id);
        await new Promise<void>((resolve) => {
          end = resolve;
          signal.addEventListener("abort", () => resolve());
        });
        reason = signal.aborted ? signal.reason : "none";
        return signal.aborted ? "giveBack" : "ended";
      });
      await queue.add(first);
      await eventually(() => (begun.length === 1 ? true : null));
      await queue.add(second);
      const hurry = new AbortController();
      let isClosed = false;
      const closed = queue.close(hurry.signal).then(() => {
        isClosed = true;
      });
      await new Promise((resolve) => setTimeout(resolve, 400));
      expect({ isClosed, begun }).toEqual({ isClosed: false, begun: [first] });
      if (isHurried) hurry.abort();
      else end();
      await closed;
      expect(reason).toBe(isHurried ? "shutdown" : "none");

      const next = await open(partQueue(1));
      const taken: string[] = [];
      await next.process(async (id) => {
        taken.push(id);
        return "ended";
      });
      const left = isHurried ? [first, second] : [second];
      await eventually(() => (taken.length >= left.length ? true : null), 5_000);
      expect(taken.toSorted()).toEqual(left.toSorted());
      await next.close();
    }
  });

  it("hands out again, and not sooner, what its handler asks to have again after a while", async () => {
    const queue = await open();
    const id = randomUUID();
    const atMs: number[] = [];
    await queue.process(async () => {
      atMs.push(performance.now());
      return atMs.length < 2 ? { againInMs: 1_000 } : "ended";
    });
    await queue.add(id);
    await eventually(() => (atMs.length > 0 ? true : null));
    await queue.add(id);
    await eventually(() => (atMs.length === 2 ? true : null));
    // Timers may fire a little early.
    expect(atMs[1]! - atMs[0]!).toBeGreaterThan(900);
  });

  it("hands a request out again whose worker was killed, once that has been silent for long enough", async () => {
    const front = await open();
    const id = randomUUID();
    const holder = spawn(
      process.execPath,
      ["--import", import.meta.resolve("tsx"), holderScript, backend.databaseUrl, backend.redisUrl ?? ""],
      { stdio: ["ignore", "pipe", "inherit"] },
    );
    let held = "";
    holder.stdout.on("data", (chunk: Buffer) => {
      held += chunk.toString();
    });
    await front.add(id);
    await eventually(() => (held.includes(id) ? true : null));
    holder.kill("SIGKILL");
    const taken: string[] = [];
    await front.process(async (takenId) => {
      taken.push(takenId);
      return "ended";
    });
    await eventually(() => (taken.length > 0 ? true : null), 25_000);
    expect(taken).toEqual([id]);
  });

  it("calls a handler again that has thrown", async () => {
    const queue = await open();
    const id = randomUUID();
    let calls = 0;
    await queue.process(async () => {
      if (++calls === 1) throw new Error("the database was away");
      return "ended";
    });
    await queue.add(id);
    await eventually(() => (calls === 2 ? true : null));
  });

  it("does nothing when what is cancelled is unknown", async () => {
    const queue = await open();
    await expect(queue.cancel(randomUUID())).resolves.toBeUndefined();
  });
}
