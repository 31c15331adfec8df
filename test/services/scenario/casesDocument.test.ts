import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { casesDocument, casesJsonSchema } from "../../../services/scenario/casesDocument.ts";
import { changeSchema } from "../../../shared/cases/change.ts";

const committed = (name: string) => readFile(join(import.meta.dirname, "../../../scenarios", name), "utf8");
const stale = "run npx tsx services/scenario/writeDocuments.ts";

it("what a cases file may hold is what the schemas say", async () => {
  expect(await committed("cases.md"), stale).toBe(casesDocument());
  expect(await committed("cases-schema.json"), stale).toBe(casesJsonSchema());
});

it("every kind of change is described", () => {
  for (const { shape } of changeSchema.options)
    expect(casesDocument()).toContain(`### cases[].changes[], kind ${shape.kind.value}\n`);
});
