import { importAnswerSchema, type OperationSummary } from "../../shared/contracts/operations.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { actingAsService } from "../store/acting.ts";
import { besideStore } from "./besideStore.ts";
import { BadInput, exitCodes, print, printJson, readScenarioOrRefuse } from "./output.ts";

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

function intoStore(operation: Operation): Promise<Imported> {
  return besideStore("expected it stopped, or its address by --server", async (store) => {
    const { outcome, operation: stored } = await store.importOperation(operation, actingAsService("import"));
    return { operation: stored, isNew: outcome === "newVersion" };
  });
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
