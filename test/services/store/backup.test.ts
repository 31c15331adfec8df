import { randomUUID } from "node:crypto";
import { readdirSync, readFileSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import { Kysely, PostgresDialect } from "kysely";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import { planQueue } from "../../../services/queue/queue.ts";
import { FaultyBackup, readBackup } from "../../../services/store/backup/format.ts";
import { NotEmpty, restoreBackup } from "../../../services/store/backup/restore.ts";
import { writeBackup } from "../../../services/store/backup/write.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { migrate } from "../../../services/store/migrations.ts";
import type { Store } from "../../../services/store/store.ts";
import { startPlanWorker } from "../../../services/worker/planWorker.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { richOperation } from "../../support/richOperation.ts";
import { eventually, startTestDatabase, temporaryFolder } from "../../support/servers.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let folder: ReturnType<typeof temporaryFolder>;
beforeAll(async () => {
  database = await startTestDatabase();
  folder = temporaryFolder();
});
afterAll(async () => {
  await database.stop();
  folder.remove();
});

async function ask<T extends object>(databaseUrl: string, text: string): Promise<T[]> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    return (await client.query<T>(text)).rows;
  } finally {
    await client.end();
  }
}

async function emptyDatabase(name: string): Promise<string> {
  await ask(database.databaseUrl, `create database ${name}`);
  const url = new URL(database.databaseUrl);
  url.pathname = `/${name}`;
  return url.href;
}
const open = (databaseUrl: string) => connectStore({ databaseUrl, onConnectionError: () => undefined });
const named = (name: string) => smallOperation({ settings: { name } });

/** What Postgres itself says of every table: each row's text, all of them as one digest. */
async function digests(databaseUrl: string): Promise<Record<string, string>> {
  const tables = await ask<{ name: string }>(
    databaseUrl,
    "select table_name as name from information_schema.tables where table_schema = 'public' order by 1",
  );
  const told: Record<string, string> = {};
  for (const { name } of tables) {
    const [row] = await ask<{ told: string }>(
      databaseUrl,
      `select count(*) || ' ' || coalesce(md5(string_agg(t::text, E'\\n' order by t::text)), '') as told from "${name}" t`,
    );
    told[name] = row!.told;
  }
  return told;
}
const without = (told: Record<string, string>, names: readonly string[]) =>
  Object.fromEntries(Object.entries(told).filter(([name]) => !names.includes(name)));
/** By their names on purpose: what is left out is judged here, not taken over from there. */
const notKept = ["sessions", "one_time_links", "crew_links", "sign_in_attempts"];
/** When each step was taken is another store's own. */
const ofSteps = ["kysely_migration", "kysely_migration_lock"];

/** A table that the backup has never heard of, with whatever is easily lost on the way. */
const odd = `
  create table odd_things (
    id integer generated always as identity primary key, other integer references odd_things (id),
    words text, counts numeric, real double precision, big bigint, at timestamptz, times timestamptz[], span interval,
    bytes bytea, kept json, packed jsonb, list text[], twice integer generated always as (id * 2) stored)`;
const oddRows = `
  insert into odd_things (other, words, counts, real, big, at, times, span, bytes, kept, packed, list) values
    (2, E'two\\nlines\\twith "quotes", \\\\ and \\u2028 and \\r and ä🚁', 'NaN', 'Infinity', 9223372036854775807, '2027-03-28 01:59:59.999999+01',
     '{"2027-01-01 00:00:00.000001+00", null}', '1 mon -2 days 03:04:05.678', '\\x00ff0a', E'{"b": 1.0,\\n "a" :  2 }', 'null', '{"a,b", null, "\\"c\\"", ""}'),
    (1, '', 0.10, 0.1, 0, 'infinity', '{}', null, '', 'null', null, null),
    (null, null, 1e-30, 1.7976931348623157e308, -1, '-infinity', null, null, null, null, '{"x": 12345678901234567890.123}', '{}')`;

async function filledStore(name: string): Promise<{ databaseUrl: string; store: Store; requestId: string }> {
  const databaseUrl = await emptyDatabase(name);
  const store = await open(databaseUrl);
  const { operation } = await store.importOperation(richOperation(), acting);
  await store.importOperation(named("another"), acting);
  const request = await madeBy(
    store.addPlanRequest(
      { operationId: operation.id, version: 1, budget: { iterations: 50 }, seed: 4_294_967_295 },
      { ...acting, once: { key: "k", digest: "d" } },
    ),
  );
  await ask(databaseUrl, `${odd}; ${oddRows}`);
  await ask(
    databaseUrl,
    `insert into people (id, name, shown_name, password, roles) values ('${randomUUID()}', 'ann', 'Ann', 'a hash', '{owner}');
     insert into sessions (hash, person_id, expires_at) select 'h', id, now() + interval '1 day' from people;
     insert into sign_in_attempts (key, attempt_id) values ('ann', '${randomUUID()}')`,
  );
  return { databaseUrl, store, requestId: request.id };
}

describe("a backup", () => {
  it("holds everything, to the last character, and a queued request is planned where it is restored", async () => {
    const { databaseUrl, store, requestId } = await filledStore("source");
    const file = join(folder.folder, "whole.gz");
    const foot = await writeBackup(databaseUrl, file);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    const before = await digests(databaseUrl);
    expect(foot.rows).toMatchObject({ operations: 2, odd_things: 3, people: 1 });
    expect(Object.keys(foot.rows).sort()).toEqual(Object.keys(without(before, [...notKept, ...ofSteps])).sort());

    const target = await emptyDatabase("target");
    await (await open(target)).close();
    await ask(target, odd);
    await restoreBackup(target, file);
    const after = await digests(target);
    expect(without(after, [...notKept, ...ofSteps])).toEqual(without(before, [...notKept, ...ofSteps]));
    for (const name of notKept) expect([name, after[name]]).toEqual([name, "0 "]);
    // Numbers that count by themselves go on, and keys between tables stand.
    await ask(target, "insert into odd_things (other) values (1)");
    expect(await ask(target, "select max(id) as id from odd_things")).toEqual([{ id: 4 }]);
    await expect(ask(target, "insert into odd_things (other) values (77)")).rejects.toThrow(/foreign key/);

    const restored = await open(target);
    const errors: string[] = [];
    const worker = await startPlanWorker({
      store: restored,
      queue: await connectQueue({
        kind: planQueue,
        databaseUrl: target,
        redisUrl: null,
        onConnectionError: (error) => errors.push(error.message),
      }),
      heldMeanwhile: { hold: () => undefined, release: () => undefined },
      threadScript: new URL("../../../services/worker/planThread.ts", import.meta.url),
      threads: 1,
      stopWithinMs: 1_000,
      onError: (error) => errors.push(error.message),
    });
    await eventually(async () => ((await restored.planRequest(requestId))?.status === "done" ? true : null), 60_000);
    const { plan } = (await restored.plan(requestId))!;
    expect(checkPlan(richOperation(), plan).breaches).toEqual([]);
    expect((await store.planRequest(requestId))?.status).toBe("queued");
    await worker.close();
    await restored.close();
    await store.close();
    expect(errors).toEqual([]);
  }, 120_000);

  it("is of one moment, however much comes in while it is made", async () => {
    const { databaseUrl, store } = await filledStore("busy");
    const file = join(folder.folder, "busy.gz");
    let over = false;
    const acknowledged: string[] = [];
    const load = Promise.all(
      Array.from({ length: 4 }, async (_, at) => {
        for (let n = 0; !over; n++) {
          const name = `load ${at} ${n}`;
          const { operation } = await store.importOperation(named(name), acting);
          acknowledged.push(name);
          await store.addPlanRequest(
            { operationId: operation.id, version: 1, budget: { iterations: 1 }, seed: n },
            acting,
          );
        }
      }),
    );
    await eventually(() => (acknowledged.length > 20 ? true : null));
    const sure = [...acknowledged];
    await writeBackup(databaseUrl, file);
    const during = acknowledged.length - sure.length;
    over = true;
    await load;
    expect(during).toBeGreaterThan(0);
    const target = await emptyDatabase("of_a_moment");
    await (await open(target)).close();
    await ask(target, odd);
    await restoreBackup(target, file);
    const restored = await open(target);
    const names = (await restored.listOperations()).map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(sure));
    // An operation is stored with its first version or not at all.
    expect(
      await ask(
        target,
        "select id from operations o where not exists (select from operation_versions where operation_id = o.id)",
      ),
    ).toEqual([]);
    await restored.close();
    await store.close();
  }, 60_000);

  it("of an older store is brought up to date where it is restored", async () => {
    const older = await emptyDatabase("older");
    const pool = new pg.Pool({ connectionString: older });
    pool.on("error", () => undefined);
    const db = new Kysely<unknown>({ dialect: new PostgresDialect({ pool }) });
    await migrate(db, "0001-operations-and-plans");
    await pool.query("insert into operations (id, name) values ($1, 'there before')", [randomUUID()]);
    await pool.query(
      "insert into operation_versions (operation_id, version, document, digest) select id, 1, $1, $2 from operations",
      [JSON.stringify(named("there before")), "0".repeat(64)],
    );
    await db.destroy();
    const file = join(folder.folder, "older.gz");
    await writeBackup(older, file);
    const target = await emptyDatabase("up_to_date");
    await restoreBackup(target, file);
    const store = await open(target);
    expect(await store.isUpToDate()).toBe(true);
    const [operation] = await store.listOperations();
    expect((await store.latestOperation(operation!.id))?.document).toEqual(named("there before"));
    await store.close();
    // A store that has gone on since is not filled from it.
    const newer = await emptyDatabase("gone_on");
    await (await open(newer)).close();
    await expect(restoreBackup(newer, file)).rejects.toThrow(NotEmpty);
  }, 60_000);

  it("that is damaged in any way is refused, and nothing is stored", async () => {
    const source = await emptyDatabase("small_source");
    const store = await open(source);
    await store.importOperation(named("one"), acting);
    await store.close();
    const file = join(folder.folder, "sound.gz");
    await writeBackup(source, file);
    const lines = gunzipSync(readFileSync(file)).toString().split("\n").slice(0, -1);
    const row = lines.findIndex((line) => line.startsWith("[") && line.includes("one"));
    const target = await emptyDatabase("untouched");
    const damaged = join(folder.folder, "damaged.gz");
    const write = (changed: readonly string[]) => writeFileSync(damaged, gzipSync(`${changed.join("\n")}\n`));
    const ways: Record<string, () => void> = {
      "no gzip": () => writeFileSync(damaged, "hello"),
      "an empty file": () => writeFileSync(damaged, ""),
      "cut off": () => {
        writeFileSync(damaged, readFileSync(file));
        truncateSync(damaged, statSync(file).size - 20);
      },
      "a byte changed": () => {
        const bytes = readFileSync(file);
        bytes[Math.floor(bytes.length / 2)]! ^= 1;
        writeFileSync(damaged, bytes);
      },
      "without its foot": () => write(lines.slice(0, -1)),
      "a row less": () => write(lines.filter((_, at) => at !== row)),
      "a row twice": () => write(lines.flatMap((line, at) => (at === row ? [line, line] : [line]))),
      "a character changed": () => write(lines.map((line, at) => (at === row ? line.replace("one", "two") : line))),
      "something after it": () => write([...lines, "{}"]),
      "another document": () => write(['{"format":"something else"}']),
    };
    for (const [way, damage] of Object.entries(ways)) {
      damage();
      await expect([way, await restoreBackup(target, damaged).catch((error: unknown) => error)]).toEqual([
        way,
        expect.any(FaultyBackup),
      ]);
    }
    expect(await ask(target, "select from information_schema.tables where table_schema = 'public'")).toEqual([]);
    await restoreBackup(target, file);
    await expect(restoreBackup(target, file)).rejects.toThrow(NotEmpty);
    expect(await digests(target)).toMatchObject(without(await digests(source), ofSteps));
  }, 60_000);

  it("that cannot be made leaves nothing behind", async () => {
    const nothing = await emptyDatabase("nothing");
    const place = temporaryFolder();
    await expect(writeBackup(nothing, join(place.folder, "none.gz"))).rejects.toThrow();
    await expect(writeBackup(nothing, join(place.folder, "no such folder", "none.gz"))).rejects.toThrow();
    expect(readdirSync(place.folder)).toEqual([]);
    place.remove();
  });

  it("is read line by line: a row of 2 MB is one piece, the rest is not held", async () => {
    const large = await emptyDatabase("large");
    await (await open(large)).close();
    await ask(
      large,
      `${odd}; insert into odd_things (words) select repeat(md5(n::text), 65000) from generate_series(1, 3) n`,
    );
    const file = join(folder.folder, "large.gz");
    await writeBackup(large, file);
    const sizes: number[] = [];
    await readBackup(file, (piece) => {
      if (piece.kind === "row") sizes.push(piece.bytes);
    });
    expect(sizes.filter((bytes) => bytes > 2_000_000)).toHaveLength(3);
    const target = await emptyDatabase("large_again");
    await (await open(target)).close();
    await ask(target, odd);
    await restoreBackup(target, file);
    expect((await digests(target)).odd_things).toBe((await digests(large)).odd_things);
  }, 60_000);
});
