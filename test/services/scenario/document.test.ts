import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { operationJsonSchema, scenarioNames, scenariosReadme } from "../../../services/scenario/document.ts";
import { type Path, valueAt } from "../../../shared/model/faults.ts";
import { operationSchema } from "../../../shared/model/operation.ts";
import { unitOf } from "../../../shared/units/unitNames.ts";
import { smallOperation } from "../../support/operation.ts";

const dir = join(import.meta.dirname, "../../../scenarios");
const committed = (name: string) => readFile(join(dir, name), "utf8");
const stale = "run npx tsx services/scenario/writeDocuments.ts";

interface Node {
  type?: string;
  description?: string;
  const?: unknown;
  properties?: Record<string, Node>;
  items?: Node;
  oneOf?: Node[];
}

/** Every property of the schema with the names around it. */
function propertiesOf(node: Node, path: string[]): { path: string[]; node: Node }[] {
  const own = Object.entries(node.properties ?? {}).flatMap(([name, inner]) => [
    { path: [...path, name], node: inner },
    ...propertiesOf(inner, [...path, name]),
  ]);
  return [...own, ...[node.items ?? [], node.oneOf ?? []].flat().flatMap((inner) => propertiesOf(inner, path))];
}
const properties = propertiesOf(JSON.parse(operationJsonSchema()) as Node, []);

describe("scenarios/README.md and scenarios/schema.json", () => {
  it("are what the schemas and the scenarios in the folder say", async () => {
    expect(await committed("README.md"), stale).toBe(scenariosReadme(await scenarioNames(dir)));
    expect(await committed("schema.json"), stale).toBe(operationJsonSchema());
  });

  it("name every property", async () => {
    const readme = await committed("README.md");
    const geoJson = new Set(["type", "features", "geometry", "coordinates", "properties"]);
    // A cell of a table holds its list in the words of the column.
    const isInCell = (path: readonly string[]) => path[0] === "orders" && path.length > 2;
    for (const { path } of properties.filter(({ path }) => path.length > 1 && !isInCell(path))) {
      const name = path[path.length - 1]!;
      if (!geoJson.has(name)) expect(readme).toContain(`| \`${name}\` |`);
    }
  });

  it("say what every value means", () => {
    const undescribed = properties.filter(({ node }) => {
      const isValue = ["number", "integer", "string", "boolean"].includes(node.type ?? "");
      return isValue && node.const === undefined && node.description === undefined;
    });
    expect(undescribed.map(({ path }) => path.join("."))).toEqual([]);
  });

  it("know the unit of every quantity; what has none is a count or a factor", () => {
    const withoutUnit = properties
      .filter(({ node }) => (node.type === "number" || node.type === "integer") && node.const === undefined)
      .filter(
        ({ path }) => unitOf(path[path.length - 1]!) === undefined && unitOf(path[path.length - 2]!) === undefined,
      );
    expect([...new Set(withoutUnit.map(({ path }) => path[path.length - 1]))].sort()).toEqual([
      "aircraftAtOnce",
      "batterySets",
      "bays",
      "circuityFactor",
      // A stage of the BBCH scale.
      "growthStage",
      "highFactor",
      "loadingPoints",
      "lowFactor",
      "mandatoryFactor",
      "maxAircraft",
      "most",
      "overtimeFactor",
      "part",
      "parts",
      "seasonMaxCount",
      "sets",
      "transportSlots",
    ]);
  });
});

describe("the JSON Schema, with ajv as the judge", () => {
  const ajv = new Ajv2020({ strict: false });
  addFormats.default(ajv);
  const takes = ajv.compile(JSON.parse(operationJsonSchema()) as object);
  const operation = JSON.parse(JSON.stringify(smallOperation({}))) as { weather: unknown[] };
  const short = { ...operation, weather: operation.weather.slice(0, 2) };

  const pathsIn = (value: unknown, path: Path): Path[] =>
    typeof value === "object" && value !== null
      ? [
          path,
          ...Object.entries(value).flatMap(([step, inner]) =>
            pathsIn(inner, [...path, Array.isArray(value) ? Number(step) : step]),
          ),
        ]
      : [path];
  const paths = pathsIn(short, []).filter((path) => path.length > 0);
  const values = fc.oneof(
    fc.constantFrom(
      0,
      -1,
      1.5,
      1e9,
      true,
      "",
      "x y",
      "F1",
      "2027-06-07",
      "2027-02-30",
      "2027-06-07T05:30",
      "05:30",
      null,
      [],
      {},
    ),
    fc.constantFrom("2027-06-07T05:00:00+02:00", "XF", "EUR", "liquid", undefined),
  );

  it("takes an operation", () => {
    expect(takes(short)).toBe(true);
  });

  it("takes and refuses what the schemas of the model do", () => {
    fc.assert(
      fc.property(fc.constantFrom(...paths), values, fc.boolean(), (path, value, asNewProperty) => {
        const raw = structuredClone(short);
        const holder = valueAt(raw, path.slice(0, -1)) as Record<string | number, unknown>;
        const name = path[path.length - 1]!;
        const at = asNewProperty && typeof name === "string" ? `${name}2` : name;
        if (value === undefined && typeof at === "string") delete holder[at];
        else holder[at] = value ?? null;
        expect(takes(raw), JSON.stringify({ path, value, at })).toBe(operationSchema.safeParse(raw).success);
      }),
      { numRuns: 2000 },
    );
  });
});
