import { connectStore } from "../store/connect.ts";
import { FolderInUse, startEmbedded } from "../store/embedded.ts";
import type { Store } from "../store/store.ts";
import { BadInput, remark } from "./output.ts";
import { readServiceSettings } from "./serviceSettings.ts";

/** Works in the store itself: that of DATABASE_URL, or the data folder's own, which no other Calmhour may use meanwhile. `whenInUse`: what to do then. */
export async function besideStore<T>(whenInUse: string, work: (store: Store) => Promise<T>): Promise<T> {
  const settings = readServiceSettings();
  const database = settings.databaseUrl === null ? await ownDatabase(settings.dataFolder, whenInUse) : null;
  try {
    const databaseUrl = settings.databaseUrl ?? database!.databaseUrl;
    const store = await connectStore({ databaseUrl, onConnectionError: (error) => remark(error.message) });
    try {
      return await work(store);
    } finally {
      await store.close();
    }
  } finally {
    await database?.stop();
  }
}

async function ownDatabase(dataFolder: string, whenInUse: string) {
  try {
    return await startEmbedded(dataFolder);
  } catch (error) {
    if (!(error instanceof FolderInUse)) throw error;
    throw new BadInput([`${error.message}; ${whenInUse}`]);
  }
}
