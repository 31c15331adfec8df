import { createServer } from "node:net";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createPool } from "../../../services/store/pool.ts";
import { storeTrouble } from "../../../services/store/trouble.ts";
import { freePort, startTestDatabase } from "../../support/servers.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let pool: pg.Pool;
beforeAll(async () => {
  database = await startTestDatabase();
  pool = createPool(database.databaseUrl, () => undefined);
});
afterAll(async () => {
  await pool.end();
  await database.stop();
});

const failure = async (work: Promise<unknown>): Promise<unknown> => {
  try {
    await work;
  } catch (error) {
    return error;
  }
  throw new Error("it did not fail");
};
const kindOf = async (work: Promise<unknown>) => storeTrouble(await failure(work))?.kind ?? null;

// Each trouble is made by a real server or a real socket: what is recognised is what comes, not what we think comes.
describe("the database's troubles", () => {
  it("nobody listens", async () => {
    const port = await freePort();
    expect(await kindOf(new pg.Client({ host: "127.0.0.1", port }).connect())).toBe("unreachable");
    // Two addresses of one name: Node tries both and tells of them together.
    expect(await kindOf(new pg.Client({ host: "localhost", port }).connect())).toBe("unreachable");
    expect(await kindOf(new pg.Client({ host: "nowhere.invalid", port }).connect())).toBe("unreachable");
  });

  it("somebody listens and says nothing", async () => {
    const silent = createServer((socket) => socket.on("error", () => undefined));
    const port = await new Promise<number>((resolve) => {
      silent.listen(0, "127.0.0.1", () => resolve((silent.address() as { port: number }).port));
    });
    const mute = new pg.Pool({ host: "127.0.0.1", port, connectionTimeoutMillis: 300 });
    expect(await kindOf(mute.query("select 1"))).toBe("unreachable");
    silent.close();
  });

  it("the connection is ended from the other side: at once, in a statement, and between two of a transaction", async () => {
    expect(await kindOf(pool.query("select pg_terminate_backend(pg_backend_pid())"))).toBe("unreachable");
    const held = await pool.connect();
    await held.query("begin");
    const { rows } = await held.query<{ pid: number }>("select pg_backend_pid() as pid");
    const gone = new Promise((resolve) => held.once("end", resolve));
    await pool.query("select pg_terminate_backend($1)", [rows[0]!.pid]);
    await gone;
    expect(await kindOf(held.query("select 1"))).toBe("unreachable");
    held.release(true);
    expect((await pool.query<{ one: number }>("select 1 as one")).rows).toEqual([{ one: 1 }]);
  });

  it("a lock is not to be had, a statement takes too long, two wait for each other", async () => {
    await pool.query("create table things as select generate_series(1, 2) as id");
    const [one, other] = [await pool.connect(), await pool.connect()];
    await one.query("begin; select 1 from things where id = 1 for update");
    await other.query("begin; set local lock_timeout = '100ms'");
    expect(await kindOf(other.query("select 1 from things where id = 1 for update"))).toBe("busy");
    await other.query("rollback; begin; set local statement_timeout = '100ms'");
    expect(await kindOf(other.query("select pg_sleep(5)"))).toBe("busy");
    await other.query(
      "rollback; begin; set local deadlock_timeout = '100ms'; select 1 from things where id = 2 for update",
    );
    const both = [
      one.query("select 1 from things where id = 2 for update"),
      other.query("select 1 from things where id = 1 for update"),
    ];
    const ended = await Promise.allSettled(both);
    const lost = ended.find((result) => result.status === "rejected")!;
    expect(storeTrouble(lost.reason)?.kind).toBe("busy");
    await one.query("rollback");
    await other.query("rollback");
    one.release();
    other.release();
  });

  it("every connection is taken", async () => {
    const held = await Promise.all(Array.from({ length: 8 }, () => pool.connect()));
    expect(await kindOf(pool.query("select 1"))).toBe("busy");
    for (const client of held) client.release();
  });

  it("no room is left, or only reading is allowed", async () => {
    await expect(
      kindOf(pool.query("do $$ begin raise exception 'could not extend file' using errcode = '53100'; end $$")),
    ).resolves.toBe("full");
    await pool.query("create table more (id integer)");
    expect(await kindOf(pool.query("begin read only; insert into more values (1)"))).toBe("unreachable");
    await pool.query("rollback");
  });

  it("and what is a bug stays one", async () => {
    expect(await kindOf(pool.query("select nothing_of_the_kind"))).toBe(null);
    expect(await kindOf(pool.query("insert into more values ('a word')"))).toBe(null);
    expect(storeTrouble(new TypeError("Cannot read properties of undefined"))).toBe(null);
    expect(storeTrouble("a text")).toBe(null);
  });
});
