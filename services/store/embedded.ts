import { lstatSync, realpathSync } from "node:fs";
import { join, resolve } from "node:path";
import { postgresAccount } from "./embedded/account.ts";
import { openCluster, runningUrl } from "./embedded/cluster.ts";
import { keepRunning } from "./embedded/keepRunning.ts";
import { clearLeftover, FolderInUse, noteOwner } from "./embedded/leftover.ts";
import { reachableHome, reachablePrograms } from "./embedded/places.ts";
import { type RunningServer, startServer } from "./embedded/server.ts";

export { FolderInUse } from "./embedded/leftover.ts";

export interface DatabaseServer extends RunningServer {
  /** Where the data is when that is not in the data folder (places.ts). */
  readonly keptElsewhere: string | null;
}

/** For a while: the one that a living Calmhour has running on the folder, or one that is started for it. */
export async function openEmbedded(
  dataFolder: string,
): Promise<{ readonly databaseUrl: string; close(): Promise<void> }> {
  try {
    const { databaseUrl, stop } = await startEmbedded(dataFolder);
    return { databaseUrl, close: stop };
  } catch (error) {
    if (!(error instanceof FolderInUse)) throw error;
    const home = realpathSync(join(resolve(dataFolder), "postgres"));
    return { databaseUrl: runningUrl(openCluster(home, "", null)), close: async () => undefined };
  }
}

/**
 * A Postgres of our own in `dataFolder`/postgres, on Linux and macOS. The package's programs are run directly and not
 * through its own wrapper, because that ends the process on every signal before we have closed what uses the database.
 * A server that ends unasked is started again on the same port; `onEnd` is told. `died` comes when that is given up.
 */
export async function startEmbedded(
  dataFolder: string,
  onEnd: (what: string) => void = () => undefined,
): Promise<DatabaseServer> {
  const account = postgresAccount();
  const programs = reachablePrograms(account);
  const wanted = join(resolve(dataFolder), "postgres");
  const home = reachableHome(wanted, account);
  const cluster = openCluster(home, programs, account);
  await clearLeftover(home, cluster.folder);
  noteOwner(home);
  const places = { home, cluster, programs, account };
  const first = await startServer(places, null);
  const port = Number(new URL(first.databaseUrl).port);
  const again = async () => {
    await clearLeftover(home, cluster.folder);
    return startServer(places, port);
  };
  return { ...keepRunning(first, again, onEnd), keptElsewhere: lstatSync(wanted).isSymbolicLink() ? home : null };
}
