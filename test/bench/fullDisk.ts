import { spawnSync } from "node:child_process";
import { chmodSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type AppParts, createApp } from "../../services/api/app.ts";
import { listen } from "../../services/api/listen.ts";
import { connectStore } from "../../services/store/connect.ts";
import { startEmbedded } from "../../services/store/embedded.ts";
import { access, everybody } from "../support/acting.ts";
import { idleQueue } from "../support/idleQueue.ts";
import { richOperation } from "../support/richOperation.ts";

const diskMb = 220;
const importsMost = 4_000;

/** A store on a small disk of its own that is filled to the last byte while operations come in, and emptied again. Needs the right to mount one. */
export async function fullDisk(): Promise<number> {
  const disk = mkdtempSync(join(tmpdir(), "calmhour-disk-"));
  const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", `size=${diskMb}m`, "tmpfs", disk], { encoding: "utf8" });
  if (mounted.status !== 0) {
    console.log(`Not run: a small disk cannot be mounted here (${mounted.stderr.trim()}).`);
    rmSync(disk, { recursive: true });
    return 1;
  }
  chmodSync(disk, 0o755);
  try {
    return await fillAndEmpty(disk);
  } finally {
    spawnSync("umount", ["-l", disk]);
    rmSync(disk, { recursive: true, force: true });
  }
}

async function fillAndEmpty(disk: string): Promise<number> {
  const ends: string[] = [];
  const database = await startEmbedded(join(disk, "data"), (what) => ends.push(what.split("\n")[0]!));
  const errors = new Map<string, number>();
  const onError = (error: unknown) => {
    const words = String(error).slice(0, 90);
    errors.set(words, (errors.get(words) ?? 0) + 1);
  };
  const store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: onError });
  const parts: Partial<AppParts> = {
    store,
    queue: idleQueue,
    runs: idleQueue,
    access,
    onError,
    authenticate: async () => ({ status: "known", actor: everybody }),
    pageFolder: disk,
  };
  const bound = await listen(createApp(parts as AppParts), { host: "127.0.0.1", port: 18_480, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  const origin = `http://127.0.0.1:${bound.api.port}`;
  const operation = richOperation();
  const importNamed = async (name: string) => {
    const document = { ...operation, settings: { ...operation.settings, name } };
    const began = performance.now();
    const response = await fetch(`${origin}/api/operations`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(document),
    });
    const { detail } = (await response.json()) as { detail?: string };
    return { status: response.status, detail, ms: performance.now() - began };
  };
  const stored: string[] = [];
  const told = new Map<string, number>();
  let longestMs = 0;
  const tryImport = async (name: string) => {
    const { status, detail, ms } = await importNamed(name);
    longestMs = Math.max(longestMs, ms);
    const words = status === 503 ? `503: ${detail}` : String(status);
    told.set(words, (told.get(words) ?? 0) + 1);
    if (status === 201) stored.push(name);
    return status;
  };

  for (let at = 0; at < 20; at++) await tryImport(`before ${at}`);
  const filler = join(disk, "filler");
  const { bavail, bsize } = statfsSync(disk);
  writeFileSync(filler, Buffer.alloc(Math.max(0, bavail * bsize - 4 * 1_048_576)));
  let refused = 0;
  for (let at = 0; at < importsMost && refused < 100; at++) {
    if ((await tryImport(`while it fills ${at}`)) !== 201) refused++;
  }
  rmSync(filler);
  const beganMs = performance.now();
  while ((await tryImport(`after ${Math.round(performance.now())}`)) !== 201) {
    if (performance.now() - beganMs > 120_000) break;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  const backS = (performance.now() - beganMs) / 1000;
  const names = new Set((await store.listOperations()).map(({ name }) => name));
  const lost = stored.filter((name) => !names.has(name));
  await bound.api.close();
  await store.close();
  await database.stop();

  console.log(`answers: ${[...told].map(([words, count]) => `${count} x ${words}`).join("; ")}`);
  console.log(`errors within: ${[...errors].map(([words, count]) => `${count} x ${words}`).join("; ")}`);
  console.log(`the database has ended: ${ends.length === 0 ? "never" : ends.join("; ")}`);
  console.log(
    `longest answer ${longestMs.toFixed(0)} ms; back ${backS.toFixed(1)} s after there was room; acknowledged ${stored.length}, lost ${lost.length}`,
  );
  const others = [...told.keys()].filter((words) => words !== "201" && !words.startsWith("503"));
  return refused > 0 && others.length === 0 && lost.length === 0 && backS < 120 ? 0 : 1;
}
