import { existsSync } from "node:fs";
import { stat } from "node:fs/promises";
import { join } from "node:path";
import { counted } from "../../shared/plan/words.ts";
import { FaultyBackup } from "../store/backup/format.ts";
import { NotEmpty, restoreBackup } from "../store/backup/restore.ts";
import { writeBackup } from "../store/backup/write.ts";
import { NewerStore } from "../store/connect.ts";
import { openEmbedded } from "../store/embedded.ts";
import { BadInput, exitCodes, print } from "./output.ts";
import { readServiceSettings } from "./serviceSettings.ts";

/** Also while Calmhour runs: what it takes in meanwhile is in the next one. */
export async function backupVerb(file: string): Promise<number> {
  const { databaseUrl, dataFolder } = readServiceSettings();
  if (databaseUrl === null && !existsSync(join(dataFolder, "postgres"))) {
    throw new BadInput([`Nothing is stored in ${dataFolder} (CALMHOUR_DATA)`]);
  }
  const { rows } = await withStore((databaseUrl) => writeBackup(databaseUrl, file));
  const { size } = await stat(file);
  print(
    `Backed up ${rowWords(rows)} to ${file} (${(size / 1_048_576).toFixed(1)} MB), and read it again: it is whole.`,
  );
  return exitCodes.good;
}

export async function restoreVerb(file: string): Promise<number> {
  try {
    const { rows } = await withStore((databaseUrl) => restoreBackup(databaseUrl, file));
    print(`Restored ${rowWords(rows)}. Nobody is signed in, and links for crews' phones have to be made again.`);
    return exitCodes.good;
  } catch (error) {
    if (error instanceof FaultyBackup)
      throw new BadInput([`${file} cannot be restored: ${error.message}. Nothing was stored.`]);
    if (error instanceof NotEmpty) throw new BadInput([`Nothing was restored: ${error.message}.`]);
    if (error instanceof NewerStore) {
      throw new BadInput([`${file} was made by a newer Calmhour; restore it with that one. Nothing was stored.`]);
    }
    const { code } = error as { code?: unknown };
    if (code === "ENOENT") throw new BadInput([`${file} is not there`]);
    throw error;
  }
}

/** With the store that the settings name: our own one is started where it does not run. */
async function withStore<T>(work: (databaseUrl: string) => Promise<T>): Promise<T> {
  const { databaseUrl, dataFolder } = readServiceSettings();
  if (databaseUrl !== null) return work(databaseUrl);
  const database = await openEmbedded(dataFolder);
  try {
    return await work(database.databaseUrl);
  } finally {
    await database.close();
  }
}

function rowWords(rows: Readonly<Record<string, number>>): string {
  const all = Object.values(rows).reduce((sum, count) => sum + count, 0);
  return `${counted(all, "row", "rows")} of ${counted(Object.keys(rows).length, "table", "tables")}`;
}
