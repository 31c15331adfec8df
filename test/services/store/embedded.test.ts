import { spawn, spawnSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import pg from "pg";
import { afterAll, afterEach, beforeEach, describe, expect, it } from "vitest";
import { processFacts } from "../../../services/store/embedded/processes.ts";
import { type DatabaseServer, FolderInUse, startEmbedded } from "../../../services/store/embedded.ts";
import { eventually, temporaryFolder } from "../../support/servers.ts";

const holder = fileURLToPath(new URL("./holdDatabase.ts", import.meta.url));

let dataFolder: string;
let remove: () => void;
const open: DatabaseServer[] = [];
const holders = new Set<number>();

beforeEach(() => {
  ({ folder: dataFolder, remove } = temporaryFolder());
});
afterEach(async () => {
  for (const pid of holders) if (processFacts(pid)) process.kill(pid, "SIGKILL");
  holders.clear();
  await Promise.all(open.splice(0).map((server) => server.stop()));
  remove();
});

async function start(): Promise<DatabaseServer> {
  const server = await startEmbedded(dataFolder);
  open.push(server);
  return server;
}

async function ask(databaseUrl: string, text: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    return (await client.query(text)).rows;
  } finally {
    await client.end();
  }
}

/** A process of its own that has the database open, with a table of one row, until it is killed. */
async function startHolder(): Promise<{ pid: number; databaseUrl: string }> {
  const child = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), holder, dataFolder], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  holders.add(child.pid!);
  let text = "";
  child.stdout.on("data", (chunk: Buffer) => {
    text += chunk.toString();
  });
  const databaseUrl = await eventually(() => /^(postgres:.*)\n/m.exec(text)?.[1] ?? null, 30_000);
  return { pid: child.pid!, databaseUrl };
}

const pidFile = () => join(dataFolder, "postgres", "made", "cluster", "postmaster.pid");
const serverPid = () => Number.parseInt(readFileSync(pidFile(), "utf8"), 10);

describe("a Postgres of our own", () => {
  it("keeps its data from one start to the next, and answers to its password only", async () => {
    const first = await start();
    await ask(first.databaseUrl, "create table kept as select 42 as answer");
    await open.pop()!.stop();
    const second = await start();
    expect(await ask(second.databaseUrl, "select answer from kept")).toEqual([{ answer: 42 }]);
    await expect(ask(second.databaseUrl.replace(/:[^:@]+@/, ":guess@"), "select 1")).rejects.toThrow(/password/);
  });

  it("is there again at the same address, with everything, when its server or the server's guardian is killed", async () => {
    const ends: string[] = [];
    const server = await startEmbedded(dataFolder, (what) => ends.push(what));
    open.push(server);
    await ask(server.databaseUrl, "create table kept as select 42 as answer");
    for (const [signal, pid] of [
      ["SIGKILL", serverPid],
      ["SIGQUIT", serverPid],
      ["SIGKILL", () => processFacts(serverPid())!.parentPid],
    ] as const) {
      const before = serverPid();
      process.kill(pid(), signal);
      await eventually(() => (existsSync(pidFile()) && serverPid() !== before ? true : null));
      await eventually(() => ask(server.databaseUrl, "select answer from kept").catch(() => null)).then((rows) =>
        expect(rows).toEqual([{ answer: 42 }]),
      );
    }
    expect(ends.filter((what) => what.includes("starting it again")).length).toBeGreaterThanOrEqual(3);
  });

  it("stops its server soon after its process was killed, and starts again with everything", async () => {
    const { pid } = await startHolder();
    const server = serverPid();
    process.kill(pid, "SIGKILL");
    await eventually(() => (processFacts(server) ? null : true));
    const again = await start();
    expect(await ask(again.databaseUrl, "select answer from held")).toEqual([{ answer: 42 }]);
  });

  it("stops a server that was left behind without its guardian, and starts again with everything", async () => {
    const { pid } = await startHolder();
    const server = serverPid();
    const guardian = processFacts(server)!.parentPid;
    // First the guardian's watcher, which would pass the end of our process on to the server.
    process.kill(guardian, "SIGSTOP");
    for (const child of childrenOf(guardian)) if (child !== server) process.kill(child, "SIGKILL");
    process.kill(guardian, "SIGKILL");
    process.kill(pid, "SIGKILL");
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(processFacts(server)).not.toBeNull();
    const again = await start();
    expect(processFacts(server)).toBeNull();
    expect(await ask(again.databaseUrl, "select answer from held")).toEqual([{ answer: 42 }]);
  });

  it("starts after everything was killed, also when the server's number belongs to another process by now", async () => {
    const { pid } = await startHolder();
    const server = serverPid();
    const guardian = processFacts(server)!.parentPid;
    for (const killed of [guardian, server, pid]) process.kill(killed, "SIGKILL");
    await eventually(() => (processFacts(server) ? null : true));
    const lines = readFileSync(pidFile(), "utf8").split("\n");
    writeFileSync(pidFile(), [process.pid, ...lines.slice(1)].join("\n"));
    const again = await start();
    expect(await ask(again.databaseUrl, "select answer from held")).toEqual([{ answer: 42 }]);
  });

  it("waits for what a killed server has left at work", async () => {
    const { pid } = await startHolder();
    const server = serverPid();
    const guardian = processFacts(server)!.parentPid;
    const left = readdirSync("/proc")
      .map(Number)
      .find((one) => one > 0 && processFacts(one)?.parentPid === server)!;
    process.kill(left, "SIGSTOP");
    for (const killed of [guardian, server, pid]) process.kill(killed, "SIGKILL");
    await eventually(() => (processFacts(server) ? null : true));
    let isLeft = true;
    setTimeout(() => {
      isLeft = false;
      process.kill(left, "SIGKILL");
    }, 1_000);
    const again = await start();
    expect(isLeft).toBe(false);
    expect(await ask(again.databaseUrl, "select answer from held")).toEqual([{ answer: 42 }]);
  });

  it("leaves the database of a living process alone", async () => {
    const { databaseUrl } = await startHolder();
    await expect(startEmbedded(dataFolder)).rejects.toThrow(FolderInUse);
    expect(await ask(databaseUrl, "select answer from held")).toEqual([{ answer: 42 }]);
  });

  it("begins anew when a first start was killed while the database was being made", async () => {
    const draft = join(dataFolder, "postgres", "draft", "cluster");
    mkdirSync(draft, { recursive: true });
    writeFileSync(join(draft, "PG_VERSION"), "18\n");
    if (process.getuid?.() === 0) spawnSync("chown", ["-R", "postgres:", join(dataFolder, "postgres")]);
    const server = await start();
    expect(await ask(server.databaseUrl, "select 1 as one")).toEqual([{ one: 1 }]);
  });
});

describe.runIf(process.getuid?.() === 0)("as root, in a folder that is root's alone", () => {
  const homes: string[] = [];
  afterAll(() => {
    for (const home of homes) rmSync(home, { recursive: true, force: true });
  });

  it("keeps the database where Postgres's account can reach it, and finds it again", async () => {
    const closed = mkdtempSync(join(tmpdir(), "calmhour-closed-"));
    chmodSync(closed, 0o700);
    homes.push(closed);
    const first = await startEmbedded(join(closed, "data"));
    await ask(first.databaseUrl, "create table kept as select 42 as answer");
    await first.stop();
    const link = join(closed, "data", "postgres");
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(first.keptElsewhere).toBe(realpathSync(link));
    homes.push(realpathSync(link));
    const second = await startEmbedded(join(closed, "data"));
    expect(await ask(second.databaseUrl, "select answer from kept")).toEqual([{ answer: 42 }]);
    await second.stop();
    expect(existsSync(join(realpathSync(link), "made", "cluster", "postmaster.pid"))).toBe(false);
  });
});

function childrenOf(parent: number): number[] {
  const { stdout } = spawnSync("sh", ["-c", "cat /proc/[0-9]*/stat"], { encoding: "utf8" });
  return stdout
    .split("\n")
    .map((line) => ({ pid: Number.parseInt(line, 10), fields: line.slice(line.lastIndexOf(")") + 2).split(" ") }))
    .filter(({ fields }) => Number(fields[1]) === parent)
    .map(({ pid }) => pid);
}
