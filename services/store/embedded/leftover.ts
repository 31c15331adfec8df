import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { endsWithin, processFacts } from "./processes.ts";

const ownerFile = "owner.pid";

/** Thrown when a living Calmhour has this folder: stopping its database under it would be worse than not starting. */
export class FolderInUse extends Error {
  constructor(ownerPid: number) {
    super(`another Calmhour (process ${ownerPid}) is running on this data folder`);
    this.name = "FolderInUse";
  }
}

function readPid(file: string): number | null {
  if (!existsSync(file)) return null;
  const pid = Number.parseInt(readFileSync(file, "utf8"), 10);
  return Number.isInteger(pid) && pid > 0 ? pid : null;
}

export function noteOwner(home: string): void {
  writeFileSync(join(home, ownerFile), `${process.pid}\n`);
}

/**
 * Clears what a killed Calmhour has left behind: a server that still runs on the folder is stopped, a postmaster.pid
 * whose number now belongs to somebody else's process (which Postgres itself would take for a running server) removed.
 */
export async function clearLeftover(home: string, clusterFolder: string): Promise<void> {
  const pidFile = join(clusterFolder, "postmaster.pid");
  const serverPid = readPid(pidFile);
  if (serverPid === null) return;
  const server = processFacts(serverPid);
  // Postgres sees to a number that nothing has any more, but takes one for a running server that has ended and whose end its parent has not asked for yet.
  if (server === null && !isKnownToSystem(serverPid)) return;
  if (!server?.command.includes(clusterFolder)) {
    rmSync(pidFile, { force: true });
    return;
  }
  // The server's parent is its guardian, and the guardian's parent the process that started both.
  const guardian = processFacts(server.parentPid);
  const ownerPid = readPid(join(home, ownerFile));
  if (guardian && guardian.parentPid === ownerPid && guardian.command.includes(clusterFolder)) {
    throw new FolderInUse(ownerPid);
  }
  // Fast shutdown, then the immediate one, which the next start recovers from: PostgreSQL manual, 18.5.
  for (const signal of ["SIGINT", "SIGQUIT"] as const) {
    signalIfAlive(serverPid, signal);
    if (await endsWithin(serverPid, 10_000)) return;
  }
  throw new Error(`a database server (process ${serverPid}) is left on ${clusterFolder} and does not stop`);
}

function isKnownToSystem(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}

function signalIfAlive(pid: number, signal: "SIGINT" | "SIGQUIT"): void {
  try {
    process.kill(pid, signal);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ESRCH") throw error;
  }
}
