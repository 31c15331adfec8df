import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import pg from "pg";
import { afterAll, beforeAll, expect, it } from "vitest";
import { connectStore } from "../../../services/store/connect.ts";
import { openEmbedded, startEmbedded } from "../../../services/store/embedded.ts";
import { acting } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { temporaryFolder } from "../../support/servers.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
let place: ReturnType<typeof temporaryFolder>;
beforeAll(() => {
  place = temporaryFolder();
});
afterAll(() => place.remove());

function run(data: string, ...args: string[]): Promise<{ code: number | null; out: string; err: string }> {
  const child: ChildProcess = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), main, ...args], {
    env: { ...process.env, DATABASE_URL: "", CALMHOUR_DATA: join(place.folder, data) },
  });
  let [out, err] = ["", ""];
  child.stdout!.on("data", (chunk: Buffer) => {
    out += chunk.toString();
  });
  child.stderr!.on("data", (chunk: Buffer) => {
    err += chunk.toString();
  });
  return new Promise((resolve) => child.once("close", (code) => resolve({ code, out, err })));
}

it("a store is backed up while it is in use, restored into another folder, and refused where something is", async () => {
  const file = join(place.folder, "backup.gz");
  const none = await run("nowhere", "backup", file);
  expect([none.code, none.err.includes("Nothing is stored")]).toEqual([2, true]);
  expect(existsSync(join(place.folder, "nowhere"))).toBe(false);

  const own = await startEmbedded(join(place.folder, "own"));
  const store = await connectStore({ databaseUrl: own.databaseUrl, onConnectionError: () => undefined });
  await store.importOperation(smallOperation({ settings: { name: "kept" } }), acting);
  const made = await run("own", "backup", file);
  expect([made.code, made.err]).toEqual([0, ""]);
  expect(made.out).toMatch(/^Backed up \d+ rows of \d+ tables to /);
  // The one that is in use was not stopped for it.
  expect((await store.listOperations()).map(({ name }) => name)).toEqual(["kept"]);
  await store.close();
  await own.stop();

  const restored = await run("other", "restore", file);
  expect([restored.code, restored.err]).toEqual([0, ""]);
  expect(restored.out).toMatch(/^Restored \d+ rows of \d+ tables\. Nobody is signed in/);
  const other = await openEmbedded(join(place.folder, "other"));
  const client = new pg.Client({ connectionString: other.databaseUrl });
  await client.connect();
  expect((await client.query("select name from operations")).rows).toEqual([{ name: "kept" }]);
  await client.end();
  await other.close();

  const again = await run("other", "restore", file);
  expect([again.code, again.err.includes("Nothing was restored: there are rows in")]).toEqual([2, true]);
  writeFileSync(file, "no backup");
  const damaged = await run("third", "restore", file);
  expect([damaged.code, damaged.err.includes("Nothing was stored")]).toEqual([2, true]);
}, 240_000);
