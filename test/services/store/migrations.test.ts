import { Kysely, PostgresDialect } from "kysely";
import pg from "pg";
import { afterAll, beforeAll, expect, it } from "vitest";
import { connectStore } from "../../../services/store/connect.ts";
import { migrate } from "../../../services/store/migrations.ts";
import { acting } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { startTestDatabase } from "../../support/servers.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
beforeAll(async () => {
  database = await startTestDatabase();
});
afterAll(() => database.stop());

async function emptyDatabase(name: string): Promise<string> {
  const url = new URL(database.databaseUrl);
  const client = new pg.Client({ connectionString: url.href });
  await client.connect();
  await client.query(`create database ${name}`);
  await client.end();
  url.pathname = `/${name}`;
  return url.href;
}

const ids = {
  operation: "00000000-0000-4000-8000-000000000001",
  request: "00000000-0000-4000-8000-000000000002",
};

it("a store of the first release is brought up to date, and nothing of it is lost", async () => {
  const databaseUrl = await emptyDatabase("filled");
  const pool = new pg.Pool({ connectionString: databaseUrl });
  const db = new Kysely<unknown>({ dialect: new PostgresDialect({ pool }) });
  await migrate(db, "0001-operations-and-plans");
  const operation = smallOperation({ settings: { name: "there before" } });
  await pool.query("insert into operations (id, name) values ($1, $2)", [ids.operation, operation.settings.name]);
  const { roads: _roads, locks: _locks, ...older } = operation;
  const changed = { ...operation, orders: operation.orders.slice(1) };
  for (const [at, document] of [older, changed, operation].entries()) {
    await pool.query(
      "insert into operation_versions (operation_id, version, document, digest) values ($1, $2, $3, $4)",
      [ids.operation, at + 1, JSON.stringify(document), "0".repeat(64)],
    );
  }
  await pool.query(
    "insert into plan_requests (id, operation_id, version, iterations, seed, status, started_at, ended_at) values ($1, $2, 1, 5, 3, 'cancelled', now(), now())",
    [ids.request, ids.operation],
  );
  await pool.query("insert into plans (request_id, plan, report) values ($1, '{}', $2)", [
    ids.request,
    JSON.stringify({ ok: true, checked: {}, breaches: [] }),
  ]);

  const store = await connectStore({ databaseUrl, onConnectionError: () => undefined });
  expect(await store.planRequest(ids.request)).toMatchObject({
    id: ids.request,
    planId: ids.request,
    kind: "plan",
    fromPlanId: null,
    seed: 3,
  });
  // Written alike, so the members stand in the same order, too. The first had no roads and locks: they are filled in as they always were.
  const stored = async (version: number) =>
    JSON.stringify((await store.operationVersion(ids.operation, version))?.document);
  expect([await stored(1), await stored(2), await stored(3)]).toEqual(
    [operation, changed, operation].map((document) => JSON.stringify(document)),
  );
  const { rows } = await pool.query(
    "select part, count(distinct digest)::int as bodies from operation_version_parts group by part order by part",
  );
  expect(rows.filter(({ bodies }) => bodies !== 1)).toEqual([{ part: "orders", bodies: 2 }]);
  // Roads and locks are both the empty list, and stored once.
  expect((await pool.query("select count(*)::int as parts from operation_parts")).rows).toEqual([{ parts: 9 }]);
  const again = await store.importOperation(operation, acting);
  expect(again.operation.version).toBe(4);
  expect((await pool.query("select count(*)::int as parts from operation_parts")).rows).toEqual([{ parts: 9 }]);
  expect(await store.checkReport(ids.request)).toEqual({ ok: true, checked: {}, breaches: [] });
  await store.close();
  await db.destroy();
});

it("many that start at once on an empty store bring it up to date once", async () => {
  const databaseUrl = await emptyDatabase("fresh");
  const stores = await Promise.all(
    Array.from({ length: 6 }, () => connectStore({ databaseUrl, onConnectionError: () => undefined })),
  );
  await Promise.all(stores.map((store) => store.isUpToDate()));
  await Promise.all(stores.map((store) => store.close()));
});

it("a store that knows a step of a later release is left alone, and that is said in words", async () => {
  const databaseUrl = await emptyDatabase("newer");
  await (await connectStore({ databaseUrl, onConnectionError: () => undefined })).close();
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  await client.query("insert into kysely_migration (name, timestamp) values ('9999-later', '2030-01-01')");
  await client.end();
  await expect(connectStore({ databaseUrl, onConnectionError: () => undefined })).rejects.toThrow(
    /made by a newer Calmhour \(this one does not know the step 9999-later/,
  );
});
