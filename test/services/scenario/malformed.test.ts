import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { formatFault } from "../../../services/scenario/faults.ts";
import { readScenario } from "../../../services/scenario/read.ts";
import { valueText } from "../../../shared/model/faults.ts";
import { layOut, malformedCase, malformedNames } from "./malformedCase.ts";

const names = await malformedNames();

describe("a malformed scenario is refused", () => {
  let dir: string;
  beforeEach(async () => {
    dir = await mkdtemp(join(tmpdir(), "malformed-"));
  });
  afterEach(() => rm(dir, { recursive: true }));

  it("in many ways", () => {
    expect(names.length).toBeGreaterThanOrEqual(45);
  });

  it.each(names)("%s", async (name) => {
    const wanted = await malformedCase(name);
    await layOut(dir, wanted);
    const outcome = await readScenario(dir);
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    const found = outcome.faults.map(({ file, place, value }) => ({ file, place, value: valueText(value) }));
    expect(found).toEqual(wanted.faults.map(({ file, place, value }) => ({ file, place, value })));
    for (const [at, fault] of outcome.faults.entries()) {
      expect(fault.expected).toContain(wanted.faults[at]!.expected);
      const line = formatFault(fault);
      expect(line).not.toContain("\n");
      for (const part of [fault.file, fault.place, valueText(fault.value), fault.expected])
        expect(line).toContain(part);
    }
  });

  it("with every fault of every file at once", async () => {
    await layOut(dir, await malformedCase("many-at-once"));
    const outcome = await readScenario(dir);
    const files = outcome.ok ? [] : outcome.faults.map(({ file }) => file);
    expect(new Set(files).size).toBe(8);
  });

  it("when the folder is not there", async () => {
    const outcome = await readScenario(join(dir, "nowhere"));
    expect(outcome).toMatchObject({ ok: false, faults: [{ file: join(dir, "nowhere"), place: "the folder" }] });
  });
});
