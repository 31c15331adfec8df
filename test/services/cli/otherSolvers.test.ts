import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { toursOf } from "../../../services/solver/outside/planTours.ts";
import { planningProblemSchema } from "../../../shared/contracts/planningProblem.ts";
import type { Plan } from "../../../shared/plan/plan.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

function plan(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", loader, main, "plan", small, ...words], {
    encoding: "utf8",
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

describe("the plan verb beside other solvers", { timeout: 120_000 }, () => {
  let folder: string;
  let file: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-outside-"));
    file = join(folder, "file.json");
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const bring = (content: unknown, ...words: string[]) => {
    writeFileSync(file, typeof content === "string" ? content : JSON.stringify(content));
    return plan("--import-tours", file, ...words);
  };

  it("writes the problem and plans nothing", () => {
    const { status, stdout, stderr } = plan("--export-problem", file);
    expect({ status, stdout }).toEqual({ status: 0, stdout: "" });
    expect(stderr).toContain("blocks");
    const raw: unknown = JSON.parse(readFileSync(file, "utf8"));
    expect(planningProblemSchema.parse(raw)).toEqual(raw);
  });

  it("takes tours back to the same score, and says no when a stop does not run", () => {
    const own = JSON.parse(plan("--iterations", "50", "--json").stdout) as { plan: Plan };
    const tours = toursOf(own.plan);
    const back = bring({ formatVersion: 1, tours }, "--json");
    expect(back.status).toBe(0);
    const told = JSON.parse(back.stdout) as { plan: Plan; check: unknown; tours: object[] };
    expect(told.plan.score).toEqual(own.plan.score);
    expect(told.check).toMatchObject({ ok: true });
    expect(told.tours).toHaveLength(tours.length);

    const [first, ...rest] = tours;
    const aircraftIds = [first!.outfit.aircraftIds[0]!];
    const batterySets = first!.outfit.batterySets.map((sets) => ({ ...sets, sets: 400 }));
    const short = { ...first!, outfit: { ...first!.outfit, aircraftIds, batterySets } };
    const refused = bring({ formatVersion: 1, tours: [short, ...rest] });
    expect(refused.status).toBe(1);
    expect(refused.stdout).toContain(
      `${first!.crewId} ${first!.date}: stop 1 of ${first!.blockIds.length}, ${first!.blockIds[0]}, does not run: `,
    );
    expect(refused.stdout).toContain("no breach");
  });

  it("refuses bad input by place, value and what was expected", () => {
    const broken = bring("{");
    expect(broken.status).toBe(2);
    expect(broken.stderr).toContain("line 1, column 2: the end of the file; expected");
    const other = bring({ formatVersion: 2, tours: [] });
    expect(other.status).toBe(2);
    expect(other.stderr).toContain("formatVersion: 2; expected 1");
    const missing = plan("--import-tours", join(folder, "none.json"));
    expect(missing.status).toBe(2);
    expect(missing.stderr).toContain("expected a file of tours as JSON");
    const nowhere = plan("--export-problem", join(folder, "none", "file.json"));
    expect(nowhere.status).toBe(2);
    expect(nowhere.stderr).toContain("--export-problem ");
  });
});
