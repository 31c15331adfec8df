import { spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

it("a plan that is stopped by Ctrl-C, arriving twice, is the best so far", { timeout: 120_000 }, async () => {
  const words = ["plan", small, "--seconds", "600", "--threads", "2", "--json"];
  const child = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), main, ...words]);
  let out = "";
  let told = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    out += text;
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    if (!told.includes("iterations") && text.includes("iterations")) {
      child.kill("SIGINT");
      setTimeout(() => child.kill("SIGINT"), 50);
    }
    told += text;
  });
  const [code] = await once(child, "close");
  expect(told).toContain("cost");
  expect(JSON.parse(out)).toMatchObject({ check: { ok: true }, plan: { operationName: expect.any(String) } });
  expect(code).toBe(0);
});
