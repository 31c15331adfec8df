import { type ChildProcess, spawn } from "node:child_process";
import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type DatabaseServer, startEmbedded } from "../../services/store/embedded.ts";

/** A folder that is gone after the tests. Open to others, as Postgres runs under another account when we are root. */
export function temporaryFolder(): { folder: string; remove(): void } {
  const folder = mkdtempSync(join(tmpdir(), "calmhour-"));
  chmodSync(folder, 0o755);
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

export async function startTestDatabase(): Promise<Pick<DatabaseServer, "databaseUrl" | "stop">> {
  const { folder, remove } = temporaryFolder();
  const server = await startEmbedded(folder);
  return {
    databaseUrl: server.databaseUrl,
    async stop() {
      await server.stop();
      remove();
    },
  };
}

/** With nothing in it, also where one was at the port before. */
export async function startTestRedis(givenPort?: number): Promise<{ redisUrl: string; stop(): Promise<void> }> {
  const port = givenPort ?? (await freePort());
  const options = ["--port", String(port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no"];
  const server = spawn("redis-server", options, { stdio: ["ignore", "pipe", "inherit"] });
  await said(server, "Ready to accept connections");
  return {
    redisUrl: `redis://127.0.0.1:${port}`,
    stop: () =>
      new Promise((resolve) => {
        server.once("exit", () => resolve());
        server.kill("SIGTERM");
      }),
  };
}

function said(child: ChildProcess, words: string): Promise<void> {
  return new Promise((resolve, reject) => {
    let text = "";
    child.stdout?.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      if (text.includes(words)) resolve();
    });
    child.once("error", reject);
    child.once("exit", (code) => reject(new Error(`the server has ended with ${code}: ${text}`)));
  });
}

export function freePort(): Promise<number> {
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

/** Looks again and again until the answer is not null; fails after the time. */
export async function eventually<T>(look: () => T | null | Promise<T | null>, withinMs = 15_000): Promise<T> {
  const deadlineMs = performance.now() + withinMs;
  for (;;) {
    const found = await look();
    if (found !== null) return found;
    if (performance.now() > deadlineMs) throw new Error(`not within ${withinMs} ms: ${look}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
