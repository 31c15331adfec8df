import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  otherSolversDocument,
  problemJsonSchema,
  toursJsonSchema,
} from "../../../services/scenario/otherSolversDocument.ts";
import { unitOf } from "../../../shared/units/unitNames.ts";

const committed = (name: string) => readFile(join(import.meta.dirname, "../../../scenarios", name), "utf8");
const stale = "run npx tsx services/scenario/writeDocuments.ts";

interface Node {
  type?: string;
  const?: unknown;
  description?: string;
  properties?: Record<string, Node>;
  items?: Node;
}

function propertiesOf(node: Node, path: string[]): { path: string[]; node: Node }[] {
  const own = Object.entries(node.properties ?? {}).flatMap(([name, inner]) => [
    { path: [...path, name], node: inner },
    ...propertiesOf(inner, [...path, name]),
  ]);
  return node.items === undefined ? own : [...own, ...propertiesOf(node.items, path)];
}

describe("what other solvers are told", () => {
  it("is what the schemas say", async () => {
    expect(await committed("other-solvers.md"), stale).toBe(otherSolversDocument());
    expect(await committed("problem-schema.json"), stale).toBe(problemJsonSchema());
    expect(await committed("tours-schema.json"), stale).toBe(toursJsonSchema());
  });

  const properties = propertiesOf(JSON.parse(problemJsonSchema()) as Node, []);

  it("has a meaning for every property", () => {
    expect(properties.length).toBeGreaterThan(80);
    const undescribed = properties.filter(({ path: [, ...inner], node }) => {
      const isId = inner.at(-1)?.toLowerCase().endsWith("id") ?? false;
      return node.description === undefined && !isId;
    });
    expect(undescribed.map(({ path }) => path.join("."))).toEqual([]);
  });

  it("has the unit of every quantity in its name; what has none is a count, a factor or a number of something", () => {
    const isNumber = ({ type }: Node): boolean => type === "number" || type === "integer";
    const innermost = (node: Node): Node => (node.items === undefined ? node : innermost(node.items));
    const withoutUnit = properties
      .filter(({ node }) => isNumber(innermost(node)) && node.const === undefined)
      .map(({ path }) => path.at(-1)!)
      .filter((name) => unitOf(name) === undefined);
    expect([...new Set(withoutUnit)].sort()).toEqual([
      "aircraft",
      "batterySets",
      "bays",
      "kind",
      "mostOrders",
      "overtimeFactor",
      "part",
      "parts",
      "sets",
      "transportSlots",
    ]);
  });
});
