import { spawn } from "node:child_process";
import { appendFileSync, closeSync, openSync, readFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { HeardClient } from "../heardClient.ts";
import type { Account } from "./account.ts";
import { type Cluster, databaseUrlOf } from "./cluster.ts";
import { sleep } from "./processes.ts";

const startsWithinMs = 60_000;
const stopsWithinMs = 20_000;
const portTries = 5;
/** Our choice: what a killed server has left at work ends within moments, on a busy machine later. */
const leftAtWorkMs = 30_000;
const logFile = "server.log";

/**
 * Runs the server ("$@") until standard input ends, which it does when our process stops it and also when our
 * process is killed: then the server gets SIGINT, its fast shutdown.
 */
const guardianScript = `
exec 3<&0
"$@" 3<&- </dev/null &
server=$!
{ cat <&3 >/dev/null; kill -INT "$server"; } &
watcher=$!
wait "$server"
code=$?
kill "$watcher" 2>/dev/null
exit "$code"
`;

export interface RunningServer {
  readonly databaseUrl: string;
  /** Resolves when the server ends without having been asked to. */
  readonly died: Promise<void>;
  stop(): Promise<void>;
}

export interface ServerPlaces {
  readonly home: string;
  readonly cluster: Cluster;
  readonly programs: string;
  readonly account: Account | null;
}

/** On the port that is given, or on a free one. */
export async function startServer(places: ServerPlaces, port: number | null): Promise<RunningServer> {
  const deadlineMs = performance.now() + leftAtWorkMs;
  // Between asking for a free port and using it somebody else may take it.
  for (let tried = 1; ; ) {
    const server = await tryStart(port ?? (await freePort()), places);
    if (server) return server;
    const log = readFileSync(join(places.home, logFile), "utf8");
    // Processes of a killed server still hold the memory that they shared (PostgreSQL manual, 18.3.1).
    if (log.includes("shared memory block") && performance.now() < deadlineMs) {
      await sleep(200);
      continue;
    }
    if (port !== null || tried++ === portTries || !log.includes("Address already in use")) {
      throw new Error(`the database server has not started:\n${log.slice(-2000)}`);
    }
  }
}

async function tryStart(
  port: number,
  { home, cluster, programs, account }: ServerPlaces,
): Promise<RunningServer | null> {
  const databaseUrl = databaseUrlOf(cluster, port);
  const settings = [
    "listen_addresses=127.0.0.1",
    `port=${port}`,
    // No socket file: its folder would have to exist and be ours.
    "unix_socket_directories=",
    "log_checkpoints=off",
  ].flatMap((setting) => ["-c", setting]);
  const command = [join(programs, "bin", "postgres"), "-D", cluster.folder, ...settings];
  const log = openSync(join(home, logFile), "w");
  const guardian = spawn("/bin/sh", ["-c", guardianScript, "calmhour-database", ...command], {
    ...account,
    cwd: "/",
    stdio: ["pipe", log, log],
    // A group of its own, so that Ctrl-C in a terminal reaches us alone and we stop the server last.
    detached: true,
    env: { ...process.env, LC_ALL: "C" },
  });
  closeSync(log);
  let ended = false;
  let asked = false;
  const end = new Promise<void>((resolve) => {
    const onEnd = () => {
      ended = true;
      guardian.stdin?.destroy();
      resolve();
    };
    guardian.once("exit", onEnd);
    // The system has not started it, for want of memory or processes.
    guardian.once("error", (error) => {
      appendFileSync(join(home, logFile), `${error.message}\n`);
      onEnd();
    });
  });
  guardian.stdin?.on("error", () => undefined);

  const stop = async () => {
    asked = true;
    guardian.stdin?.end();
    const late = new Promise<"late">((resolve) => setTimeout(resolve, stopsWithinMs, "late").unref());
    if ((await Promise.race([end, late])) === "late") throw new Error("the database server does not stop");
  };

  const deadlineMs = performance.now() + startsWithinMs;
  while (!(await answers(databaseUrl))) {
    if (ended) return null;
    if (performance.now() > deadlineMs) {
      await stop();
      return null;
    }
    await sleep(50);
  }
  const died = new Promise<void>((resolve) => {
    end.then(() => {
      if (!asked) resolve();
    });
  });
  return { databaseUrl, died, stop };
}

async function answers(databaseUrl: string): Promise<boolean> {
  const client = new HeardClient({ connectionString: databaseUrl, connectionTimeoutMillis: 5000 });
  try {
    await client.connect();
    await client.query("select 1");
    return true;
  } catch {
    return false;
  } finally {
    await client.end().catch(() => undefined);
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      const port = address && typeof address === "object" ? address.port : 0;
      probe.close(() => resolve(port));
    });
  });
}
