import pg from "pg";
import { afterAll, beforeAll, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import { mend } from "../../../services/queue/mendClock.ts";
import { planQueue } from "../../../services/queue/queue.ts";
import { eventually, startTestDatabase } from "../../support/servers.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let client: pg.Client;
beforeAll(async () => {
  database = await startTestDatabase();
  client = new pg.Client({ connectionString: database.databaseUrl });
  await client.connect();
});
afterAll(async () => {
  await client.end();
  await database.stop();
});

it("what was put off while the clock was hours ahead is worked when it is right again", async () => {
  const { databaseUrl } = database;
  const open = () => connectQueue({ kind: planQueue, databaseUrl, redisUrl: null, onConnectionError: () => undefined });
  const queue = await open();
  await queue.add("put off", "held by a dead worker");
  const aheadMs = Date.now() + 6 * 3_600_000;
  // As a worker leaves them whose clock was six hours ahead.
  await client.query(
    "update bullmq.job set state = 'delayed', process_at_ms = $1, delay_ms = 1000 where id = 'put off'",
    [aheadMs],
  );
  await client.query(
    "update bullmq.job set state = 'active', lock_token = 'gone', locked_until_ms = $1, processed_at_ms = $1 where id = 'held by a dead worker'",
    [aheadMs],
  );
  await client.query("insert into bullmq.meta (queue, field, value) values ('plans', 'stalled-check', $1)", [
    String(aheadMs),
  ]);
  const worked: string[] = [];
  const worker = await open();
  await worker.process(async (id) => {
    worked.push(id);
    return "ended";
  });
  await new Promise((resolve) => setTimeout(resolve, 1_500));
  expect(worked).toEqual([]);
  await mend("plans", databaseUrl);
  // A queue tells its workers of what is new; else they look by themselves every few seconds.
  await eventually(() => (worked.length === 2 ? true : null), 30_000);
  expect([...worked].sort()).toEqual(["held by a dead worker", "put off"]);
  await worker.close();
  await queue.close();
}, 60_000);
