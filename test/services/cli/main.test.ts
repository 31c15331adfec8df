import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dateWords } from "../../../shared/model/dateWords.ts";
import type { Plan } from "../../../shared/plan/plan.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

function calmhour(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", loader, main, ...words], {
    encoding: "utf8",
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

describe("the command line", { timeout: 120_000 }, () => {
  let folder: string;
  let planFile: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-cli-"));
    planFile = join(folder, "plan.json");
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("plans, checks and prints a crew's day", () => {
    const planned = calmhour("plan", small, "--iterations", "50", "--out", planFile);
    expect(planned.status).toBe(0);
    expect(planned.stdout).toContain("no breach");
    expect(planned.stdout).toContain("the licensed applicator on site decide");
    expect(planned.stderr).toContain("iterations");

    const checked = calmhour("check", small, planFile, "--json");
    expect(checked.status).toBe(0);
    expect(JSON.parse(checked.stdout)).toMatchObject({ ok: true, breaches: [] });

    const plan = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    const { crewId, date } = plan.crewDays[0]!;
    const sheet = calmhour("sheet", small, planFile, "--crew", crewId, "--date", date);
    expect(sheet.status).toBe(0);
    expect(sheet.stdout).toContain(dateWords(date));
    const none = calmhour("sheet", small, planFile, "--crew", crewId, "--date", "2030-01-01");
    expect(none.status).toBe(2);
    expect(none.stderr).toContain(`expected one of ${crewId} ${date}`);
  });

  it("writes the papers of a good plan into a folder, and names them", () => {
    const out = join(folder, "papers");
    const written = calmhour("papers", small, planFile, out, "--size", "letter");
    expect(written.status).toBe(0);
    const names = written.stdout.trim().split("\n");
    expect(readdirSync(out).sort()).toEqual([...names].sort());
    const plan = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    for (const { crewId, date } of plan.crewDays) {
      for (const ending of ["pdf", "geojson", "kml", "gpx"]) expect(names).toContain(`${date} ${crewId}.${ending}`);
    }
    for (const name of ["week.pdf", "stops.csv", "orders.csv", "conflicts.csv", "crew-days.csv", "fields.kml"]) {
      expect(names).toContain(name);
    }
    // PDF 1.7 (ISO 32000-1), section 7.5.2.
    expect(readFileSync(join(out, "week.pdf"), "latin1").startsWith("%PDF-1.")).toBe(true);
    expect(calmhour("papers", small, planFile, out, "--size", "a3").status).toBe(2);
  });

  it("plans again from a plan that is published, and refuses what is no plan", () => {
    const again = calmhour("plan", small, "--iterations", "1", "--published", planFile, "--json");
    expect(again.status).toBe(0);
    expect(again.stderr).toContain("every stop on these days still holds");
    const before = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    const { plan } = JSON.parse(again.stdout) as { plan: Plan };
    expect(plan.crewDays).toEqual(before.crewDays);
    expect(plan.score.changeCents).toBe(0);
    const noPlan = join(folder, "no-plan.json");
    writeFileSync(noPlan, JSON.stringify({ ...before, seed: "one" }));
    const refused = calmhour("plan", small, "--from", noPlan);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toContain("seed");
    expect(calmhour("plan", small, "--from", join(folder, "nowhere.json")).status).toBe(2);
  });

  it("locks a crew's day as it stands, plans round it and tells what cannot hold", () => {
    const dir = join(folder, "locked");
    cpSync(small, dir, { recursive: true });
    const before = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    const { crewId, date, activities } = before.crewDays[0]!;
    const locked = calmhour("lock", dir, planFile, "--crew", crewId, "--date", date, "--save");
    expect(locked.status).toBe(0);
    expect(JSON.parse(readFileSync(join(dir, "locks.json"), "utf8"))).toEqual([JSON.parse(locked.stdout)]);
    const again = calmhour("plan", dir, "--iterations", "20", "--seed", "5", "--json");
    expect(again.status).toBe(0);
    const { plan } = JSON.parse(again.stdout) as { plan: Plan };
    const day = plan.crewDays.find((one) => one.crewId === crewId && one.date === date)!;
    const works = (list: typeof activities) => list.filter(({ kind }) => kind === "work");
    expect(works(day.activities)).toEqual(works(activities));

    const [lock] = JSON.parse(readFileSync(join(dir, "locks.json"), "utf8")) as [{ date: string }];
    writeFileSync(join(dir, "locks.json"), JSON.stringify([{ ...lock, date: "2031-01-01" }]));
    const broken = calmhour("plan", dir, "--iterations", "20");
    expect(broken.status).toBe(0);
    expect(broken.stdout).toContain("Locked, and cannot hold");
    expect(broken.stdout).toContain("the crew has no shift on that day");
    const none = calmhour("lock", dir, planFile, "--crew", crewId, "--date", "2030-01-01");
    expect(none.status).toBe(2);
    expect(none.stderr).toContain(`expected one of ${crewId} ${date}`);
  });

  it("says no to a plan that breaks a rule, naming the rule", () => {
    const plan = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    plan.crewDays[0]!.outfit.tenderId = "no-such-tender" as Plan["crewDays"][number]["outfit"]["tenderId"];
    const broken = join(folder, "broken.json");
    writeFileSync(broken, JSON.stringify(plan));
    const checked = calmhour("check", small, broken);
    expect(checked.status).toBe(1);
    expect(checked.stdout).toContain("broken: knownIds: ");
  });

  it("says first that a plan names another operation, then at most twenty breaches", () => {
    const plan = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    const other = join(folder, "other.json");
    writeFileSync(other, JSON.stringify({ ...plan, operationName: "Another week", days: 9 }));
    const renamed = calmhour("check", small, other);
    expect(renamed.status).toBe(1);
    const [first, ...rest] = renamed.stdout.trimEnd().split("\n");
    const place = `from ${plan.firstDay}`;
    expect(first).toBe(
      `the plan names another operation: "Another week" ${place}, 9 days, ${plan.timeZone}; ` +
        `this one is "${plan.operationName}" ${place}, ${plan.days} days, ${plan.timeZone}`,
    );
    // Name and number of days; nothing else is wrong with it.
    expect(rest.at(-1)).toBe("2 breaches");
    expect(rest.filter((line) => line.startsWith("broken: "))).toEqual([]);

    const conflict = { orderId: "O-001", blockIds: [], areaHa: 1, kind: "noWindow", sentence: "none", evidence: {} };
    const conflicts = Array.from({ length: 15 }, (_, at) => ({ ...conflict, orderId: `X-${at}`, blockIds: ["X-1#1"] }));
    writeFileSync(other, JSON.stringify({ ...plan, conflicts: [...plan.conflicts, ...conflicts] }));
    const many = calmhour("check", small, other);
    const lines = many.stdout.trimEnd().split("\n");
    const breaches = (JSON.parse(calmhour("check", small, other, "--json").stdout) as { breaches: unknown[] }).breaches;
    expect(breaches.length).toBeGreaterThan(20);
    expect(lines[0]).toContain("rules examined");
    expect(lines.filter((line) => line.startsWith("broken: "))).toHaveLength(20);
    expect(lines.at(-2)).toBe(`and ${breaches.length - 20} more; --json lists all`);
    expect(lines.at(-1)).toBe(`${breaches.length} breaches`);
  });

  it("prints windows of all orders and the hours of one with what stops them", () => {
    const all = calmhour("windows", small);
    expect(all.status).toBe(0);
    expect(all.stdout).toContain("O-001");
    const one = calmhour("windows", small, "--order", "O-001", "--json");
    const { types } = JSON.parse(one.stdout) as { types: { hours: { openMin: number; judgements: unknown[] }[] }[] };
    // Two days of 24 hours; an hour is wholly open exactly when nothing stops it.
    for (const { hours } of types) {
      expect(hours).toHaveLength(48);
      for (const hour of hours) expect(hour.judgements.length === 0).toBe(hour.openMin === 60);
    }
  });

  it("prints the work time for the quickest outfit, for one named, and says no when it cannot", () => {
    const quickest = calmhour("worktime", small, "--order", "O-001", "--json");
    expect(quickest.status).toBe(0);
    const { outfit, others } = JSON.parse(quickest.stdout) as {
      outfit: { outcome: { minutes: number } };
      others: { outcome: { ok: boolean; minutes: number } }[];
    };
    const minutes = others.flatMap(({ outcome }) => (outcome.ok ? [outcome.minutes] : []));
    expect(outfit.outcome.minutes).toBe(Math.min(...minutes));
    const unknown = calmhour("worktime", small, "--order", "O-001", "--outfit", "nothing,at-all");
    expect(unknown.status).toBe(2);
    expect(unknown.stderr).toContain("nothing, at-all is unknown");
  });

  it("generates a scenario that it can plan", () => {
    const out = join(folder, "made");
    const made = calmhour("generate", out, "--orders", "6", "--crews", "1", "--days", "2", "--seed", "3");
    expect(made.status).toBe(0);
    expect(calmhour("plan", out, "--iterations", "5").status).toBe(0);
  });

  it("answers bad input with 2 and what was expected", () => {
    for (const [words, expected] of [
      [["plan", join(folder, "nowhere")], "expected"],
      [["plan", small, "--seconds", "soon"], "--seconds: soon; expected a whole number of at least 1"],
      [["plan", small, "--gap", "-1"], "--gap: -1; expected a number of at least 0"],
      [["plan", small, "--gap", "2", "--bound", "0"], "--gap 2: without a bound no gap is known"],
      [["windows", small, "--order", "O-999"], "order O-999 is unknown; expected one of O-001"],
      [["check", small, join(small, "orders.csv")], "expected a plan"],
      [["check", small, join(small, "fleet.json")], "is not a plan"],
      [["sow"], "unknown command"],
    ] as const) {
      const { status, stderr } = calmhour(...words);
      expect(stderr).toContain(expected);
      expect(status).toBe(2);
    }
  });

  it("helps", () => {
    const { status, stdout } = calmhour("--help");
    expect(status).toBe(0);
    for (const verb of ["plan", "check", "windows", "worktime", "generate", "import", "serve"]) {
      expect(stdout).toContain(`  ${verb} `);
    }
    expect(calmhour("plan", "--help").stdout).toContain("--iterations");
  });
});
