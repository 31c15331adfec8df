import { lstatSync } from "node:fs";
import { join, resolve } from "node:path";
import { postgresAccount } from "./embedded/account.ts";
import { openCluster } from "./embedded/cluster.ts";
import { clearLeftover, noteOwner } from "./embedded/leftover.ts";
import { reachableHome, reachablePrograms } from "./embedded/places.ts";
import { type RunningServer, startServer } from "./embedded/server.ts";

export { FolderInUse } from "./embedded/leftover.ts";

export interface DatabaseServer extends RunningServer {
  /** Where the data is when that is not in the data folder (places.ts). */
  readonly keptElsewhere: string | null;
}

/**
 * A Postgres of our own in `dataFolder`/postgres, on Linux and macOS. The package's programs are run directly and not
 * through its own wrapper, because that ends the process on every signal before we have closed what uses the database.
 */
export async function startEmbedded(dataFolder: string): Promise<DatabaseServer> {
  const account = postgresAccount();
  const programs = reachablePrograms(account);
  const wanted = join(resolve(dataFolder), "postgres");
  const home = reachableHome(wanted, account);
  const cluster = openCluster(home, programs, account);
  await clearLeftover(home, cluster.folder);
  noteOwner(home);
  const server = await startServer(home, cluster, programs, account);
  return { ...server, keptElsewhere: lstatSync(wanted).isSymbolicLink() ? home : null };
}
