import { spawn } from "node:child_process";
import { statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it, vi } from "vitest";
import { ownSecret } from "../../../services/access/ownSecret.ts";
import { hashOf, randomSecret } from "../../../services/access/secrets.ts";
import { importVerb } from "../../../services/cli/importVerb.ts";
import { resetPersonVerb } from "../../../services/cli/peopleVerb.ts";
import { serve } from "../../../services/cli/serve.ts";
import { readSettings } from "../../../services/cli/settings.ts";
import { createLog } from "../../../services/sight/log.ts";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import { acting } from "../../support/acting.ts";
import { temporaryFolder } from "../../support/servers.ts";
import { serveAccess } from "./serveAccess.ts";

const { call, person, store, origin, databaseUrl } = serveAccess();
const script = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

async function calmhour(words: readonly string[], env: NodeJS.ProcessEnv) {
  const child = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), script, ...words], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, ...env },
  });
  let said = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream.on("data", (chunk: Buffer) => {
      said += chunk.toString();
    });
  }
  const status = await new Promise((resolve) => child.once("close", resolve));
  return { status, said };
}

it("a lost password is set anew by an address that is printed beside the store", async () => {
  await person("Lost", ["administrator"]);
  const env = { DATABASE_URL: databaseUrl(), CALMHOUR_ORIGIN: "https://plan.example.org" };
  for (const [name, value] of Object.entries(env)) vi.stubEnv(name, value);
  await expect(resetPersonVerb("found")).rejects.toThrow("nobody signs in as found; expected one of Lost");
  vi.unstubAllEnvs();
  const { status, said } = await calmhour(["people", "reset", "lost"], env);
  expect(status).toBe(0);
  const link = /https:\/\/plan\.example\.org\/#password\/([\w-]{43})$/m.exec(said)?.[1];
  const used = await call<SessionFacts>(
    "POST",
    "/api/password-links/use",
    {},
    { link, password: "found it once more" },
  );
  expect(used.body).toMatchObject({ name: "Shown Lost" });
}, 60_000);

it("an operation is imported through a server with a token of whoever may", async () => {
  const { id } = await person("importer", ["dispatcher"]);
  const secret = randomSecret();
  const token = {
    personId: id,
    hash: hashOf(secret),
    name: "cli",
    roles: ["dispatcher"],
    readOnly: false,
    forS: 60,
  } as const;
  await store().addToken(token, acting);
  const importWith = (value: string) => {
    vi.stubEnv("CALMHOUR_TOKEN", value);
    return importVerb(small, { server: origin() });
  };
  await expect(importWith("")).rejects.toThrow("expected a token of yours in CALMHOUR_TOKEN");
  await expect(importWith("of nobody")).rejects.toThrow("does not take the token");
  expect(await importWith(secret)).toBe(0);
  vi.unstubAllEnvs();
  expect((await store().listOperations()).length).toBe(1);
}, 60_000);

it("a server on a given database wants a given secret, and is not started without", async () => {
  const read = readSettings({ DATABASE_URL: databaseUrl(), CALMHOUR_SECRET: "" });
  if (!read.ok) throw new Error(read.message);
  const said: string[] = [];
  const write = (text: string) => said.push(text);
  const log = createLog({ form: "words", part: "serve", write, writeHere: write });
  const ended = await serve({ settings: read.settings, withWorker: false, log });
  expect(ended.exitCode).toBe(2);
  expect(said).toEqual([expect.stringMatching(/^Not started: CALMHOUR_SECRET is not set\./)]);
});

it("a secret that is too short, or an origin that is none, is refused and not told", () => {
  const messageOf = (env: NodeJS.ProcessEnv) => {
    const read = readSettings(env);
    return read.ok ? null : read.message;
  };
  const short = "short, but secret";
  expect(messageOf({ CALMHOUR_SECRET: short })).toMatch(/expected at least 32 characters/);
  expect(messageOf({ CALMHOUR_SECRET: short })).not.toContain(short);
  expect(messageOf({ CALMHOUR_SECRET: "s".repeat(32) })).toBeNull();
  for (const origin of ["https://plan.example.org", "http://127.0.0.1:8080"]) {
    expect(messageOf({ CALMHOUR_ORIGIN: origin })).toBeNull();
  }
  for (const origin of [
    "plan.example.org",
    "https://plan.example.org/",
    "https://plan.example.org/a",
    "ftp://plan.example.org",
  ]) {
    expect(messageOf({ CALMHOUR_ORIGIN: origin })).toMatch(/expected an address/);
  }
});

it("the own secret is made once, for its owner's eyes only", () => {
  const { folder, remove } = temporaryFolder();
  const data = join(folder, "data");
  const made = ownSecret(data);
  expect(made).toMatch(/^[\w-]{43}$/);
  expect(ownSecret(data)).toBe(made);
  expect(statSync(join(data, "secret")).mode & 0o777).toBe(0o600);
  remove();
});
