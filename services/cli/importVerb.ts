import { importAnswerSchema, type OperationSummary } from "../../shared/contracts/operations.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { actingAsService } from "../store/acting.ts";
import { connectStore } from "../store/connect.ts";
import { FolderInUse, startEmbedded } from "../store/embedded.ts";
import { BadInput, exitCodes, print, printJson, readScenarioOrRefuse, remark } from "./output.ts";
import { readServiceSettings } from "./serviceSettings.ts";

export interface ImportOptions {
  readonly server?: string;
  readonly json?: boolean;
}

interface Imported {
  readonly operation: OperationSummary;
  readonly isNew: boolean;
}

/** Store a scenario: straight into the store (DATABASE_URL, or the data folder's own), or through a server that runs. */
export async function importVerb(dir: string, { server, json }: ImportOptions): Promise<number> {
  const { operation, defaultsUsed } = await readScenarioOrRefuse(dir);
  const imported = server === undefined ? await intoStore(operation) : await throughServer(server, operation);
  const { name, id, version } = imported.operation;
  if (json) printJson({ operation: imported.operation, isNew: imported.isNew, defaultsUsed });
  else {
    print(
      imported.isNew
        ? `${name}: stored as version ${version} (${id})`
        : `${name}: the same as version ${version} (${id})`,
    );
  }
  return exitCodes.good;
}

async function intoStore(operation: Operation): Promise<Imported> {
  const settings = readServiceSettings();
  const database = settings.databaseUrl === null ? await ownDatabase(settings.dataFolder) : null;
  try {
    const databaseUrl = settings.databaseUrl ?? database!.databaseUrl;
    const store = await connectStore({ databaseUrl, onConnectionError: (error) => remark(error.message) });
    try {
      const { outcome, operation: stored } = await store.importOperation(operation, actingAsService("import"));
      return { operation: stored, isNew: outcome === "newVersion" };
    } finally {
      await store.close();
    }
  } finally {
    await database?.stop();
  }
}

async function ownDatabase(dataFolder: string) {
  try {
    return await startEmbedded(dataFolder);
  } catch (error) {
    if (!(error instanceof FolderInUse)) throw error;
    throw new BadInput([`${error.message}; expected it stopped, or its address by --server`]);
  }
}

async function throughServer(server: string, operation: Operation): Promise<Imported> {
  const token = process.env.CALMHOUR_TOKEN;
  let answer: Response;
  try {
    answer = await fetch(new URL("/api/operations", server), {
      method: "POST",
      headers: { "content-type": "application/json", ...(token ? { authorization: `Bearer ${token}` } : {}) },
      body: JSON.stringify(operation),
    });
  } catch (error) {
    throw new BadInput([`--server ${server}: ${(error as Error).message}; expected the address of a running Calmhour`]);
  }
  const text = await answer.text();
  if (answer.status === 401) {
    throw new BadInput([
      token
        ? `${server} does not take the token in CALMHOUR_TOKEN; it may have expired or been revoked`
        : `${server} wants to know who calls; expected a token of yours in CALMHOUR_TOKEN`,
    ]);
  }
  if (!answer.ok) throw new BadInput([`${server} answers ${answer.status}: ${text}`]);
  const { operation: stored } = importAnswerSchema.parse(JSON.parse(text));
  return { operation: stored, isNew: answer.status === 201 };
}
