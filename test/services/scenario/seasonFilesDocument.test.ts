import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { expect, it } from "vitest";
import { seasonFilesDocument, seasonJsonSchema } from "../../../services/scenario/seasonFilesDocument.ts";

const committed = (name: string) => readFile(join(import.meta.dirname, "../../../scenarios", name), "utf8");
const stale = "run npx tsx services/scenario/writeDocuments.ts";

it("what a season may hold is what the schemas say", async () => {
  expect(await committed("season.md"), stale).toBe(seasonFilesDocument());
  expect(await committed("season-schema.json"), stale).toBe(seasonJsonSchema());
});

it("the JSON Schema, with ajv as the judge, takes the demo's season and no misspelt one", async () => {
  const ajv = new Ajv2020({ strict: false });
  addFormats.default(ajv);
  const takes = ajv.compile(JSON.parse(seasonJsonSchema()) as object);
  const season = JSON.parse(await committed("cases/season.json")) as object;
  expect(takes(season)).toBe(true);
  expect(takes({ ...season, weather: { meanRunDays: 0.5 } })).toBe(false);
  expect(takes({ ...season, demands: [] })).toBe(false);
});
