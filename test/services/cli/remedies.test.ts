import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { writeScenario } from "../../../services/scenario/write.ts";
import { remediesSchema } from "../../../shared/cases/remedy.ts";
import { planned } from "../../support/planned.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));

function remedies(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const ran = spawnSync(process.execPath, ["--import", loader, main, "remedies", ...words], {
    encoding: "utf8",
    timeout: 100_000,
  });
  return { status: ran.status, stdout: ran.stdout, stderr: ran.stderr };
}

describe("remedies on the command line", { timeout: 300_000 }, () => {
  const operation = generateOperation({ orders: 5, crews: 1, days: 2, seed: 3 });
  for (const crew of operation.fleet.crews) for (const shift of crew.shifts) shift.to = "09:00";
  const plan = planned(operation, 50);
  const parent = mkdtempSync(join(tmpdir(), "calmhour-remedies-"));
  const dir = join(parent, "week");
  const file = join(parent, "plan.json");
  beforeAll(async () => {
    await writeScenario(dir, operation);
    writeFileSync(file, JSON.stringify(plan));
  });
  afterAll(() => rmSync(parent, { recursive: true, force: true }));

  it("are not looked for where the plan is not of these inputs", () => {
    const other = join(parent, "other.json");
    writeFileSync(other, JSON.stringify({ ...plan, operationName: "Another" }));
    const { status, stderr } = remedies(dir, other);
    expect(status).toBe(2);
    expect(stderr).toContain("it breaks rules in 1 place. It may be of another operation");
  });

  it("are printed as data, and for people", () => {
    const asData = remedies(dir, file, "--iterations", "10", "--threads", "1", "--json");
    const told = remediesSchema.parse(JSON.parse(asData.stdout));
    const isHelp = told.groups.some((group) => group.remedies.length > 0);
    expect(asData.status).toBe(isHelp ? 0 : 1);
    expect(told.groups.flatMap(({ group }) => group.orderIds).length).toBeGreaterThan(0);
    const asText = remedies(dir, file, "--iterations", "10", "--threads", "1");
    const text = asText.stdout.replace(/\s+/g, " ");
    for (const { group } of told.groups) expect(text).toContain(group.sentence);
    expect(text).toContain("the licensed applicator on site decide");
  });

  it("refuse an order that is not there, and a plan that breaks a rule", () => {
    const unknown = remedies(dir, file, "--order", "O-none");
    expect(unknown.status).toBe(2);
    expect(unknown.stderr).toContain("order O-none is unknown");
    const broken = join(parent, "broken.json");
    writeFileSync(broken, JSON.stringify({ ...plan, conflicts: [] }));
    const refused = remedies(dir, broken);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toContain("breaks");
  });
});
