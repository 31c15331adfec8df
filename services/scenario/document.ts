import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";
import { type NumberRange, rangeWords } from "../../shared/model/issueWords.ts";
import { operationSchema } from "../../shared/model/operation.ts";
import { clockTimeSchema, localDateTimeSchema } from "../../shared/model/quantities.ts";
import { settingsSchema } from "../../shared/model/settings.ts";
import { unitOf } from "../../shared/units/unitNames.ts";
import { fileOfPart, optionalParts, type Part, partNames, type TablePart, tableParts } from "./faults.ts";

/** What of JSON Schema our schemas come out as. */
export interface Node extends NumberRange {
  type?: string;
  format?: string;
  pattern?: string;
  description?: string;
  const?: unknown;
  enum?: unknown[];
  default?: unknown;
  items?: Node;
  properties?: Record<string, Node>;
  required?: string[];
  oneOf?: Node[];
  additionalProperties?: unknown;
}

/** The whole operation as one document: JSON Schema, draft 2020-12, of what may come in. */
export function operationJsonSchema(): string {
  const schema = z.toJSONSchema(operationSchema, { io: "input" });
  const { $schema, ...rest } = schema;
  const titled = { $schema, title: "Operation", description: "Everything that a plan is made from", ...rest };
  return `${JSON.stringify(titled, null, 2)}\n`;
}

const partWords: Record<Part, string> = {
  settings: "The operation itself: name, time, bases, water points, costs, limits beside the labels, planning weights.",
  fields:
    "Fields as a GeoJSON FeatureCollection (RFC 7946). The geometry of each feature is a Polygon or a MultiPolygon, " +
    "positions as [longitude, latitude] in WGS 84; a first ring is the outer edge, further rings are holes such as " +
    "obstacles. Rings close, do not cross and have ground inside; a field has 0.02 to 5,000 ha.",
  sensitive:
    "Places to be protected as a GeoJSON FeatureCollection (RFC 7946). The geometry of each feature is a Point, a " +
    "LineString, a Polygon or a MultiPolygon.",
  products: "A list of products: what their labels say, as data.",
  orders:
    "One order a row. Products stand in one cell as `product:rate`, several parted by a semicolon: `prod-a:0.5; prod-b:1.2`; " +
    "waiting times to other orders likewise, as `order:hours`; alternatives with their volume behind them, parted by |: " +
    "`prod-a:0.5; prod-b:1.2 @ 40 | prod-c:0.3 @ 30`.",
  fleet: "Aircraft types, aircraft, battery stocks, chargers, tenders and crews, and what could be hired.",
  weather: "One step of one station a row, steps of any length. A gap is not calm: without a step no work is planned.",
  roads:
    "Driving between two places, one direction a row. Pairs that are not listed are reckoned by `roads` of operation.json.",
  locks:
    "What the dispatcher has fixed, one entry for a crew on a day. Every plan keeps it; what cannot hold, for want of a shift, an hour, " +
    "an aircraft or for another lock, is told and left out, never moved. A whole crew-day as it stands is its outfit, its stops with " +
    "their minutes, in order, and nothing else: `calmhour lock DIR PLAN --crew ID --date DATE` writes that entry.",
};

const intro = `# Scenarios

A scenario is a folder that holds a whole operation for some days: its fields, orders, products, aircraft, crews and
weather. The same content goes in and out through the API as one JSON document; \`schema.json\` beside this file is its
JSON Schema (draft 2020-12), and there the parts are called ${partNames.map((part) => `\`${part}\``).join(", ")}.

A scenario is read whole or not at all: everything that is wrong is listed at once, with file, place, value and what was
expected. Names that are not listed here are refused, so that a slip of the hand is not lost. Where a value may be left
out and a default is used, the default is named as used.

How a scenario's planning problem goes out to other solvers, and their tours come back, is told in
[other-solvers.md](other-solvers.md). Over what weeks of a season a what-if case can be run, and the two files that say so, is told in [season.md](season.md).

This file is generated from the schemas: change their descriptions and run \`npx tsx services/scenario/writeDocuments.ts\`.

Windows, loads and sheets made from a scenario are planning aids. The product label, local pesticide and aviation rules and
the licensed applicator on site decide.
`;

const conventions = `## What holds for every file

- Text is UTF-8. Numbers have a decimal point. The unit of a quantity is the end of its name: \`windMaxKph\` is in km/h.
- An id is a short word of letters, digits, dot, dash or underscore; no two things of a kind share one, nor do a base and a
  water point.
- A date is \`2027-06-07\`, a local date and time \`2027-06-07T05:30\`, a time of day \`05:30\`: all on the clocks of
  \`timeZone\`. A time that those clocks skip in spring is refused; of a time that they show twice the first counts. Weather
  steps carry their offset from UTC.
- Money is in hundredths (cents) of \`currency\`.
- Tables (CSV, RFC 4180) have a header with the names listed here, in any order, and commas between cells. An empty cell is a
  value left out; yes and no stand for true and false. Rows are counted as a spreadsheet does: the header is row 1.
`;

const patternOf = (schema: z.ZodType) => (z.toJSONSchema(schema) as Node).pattern;
const dateTimePattern = patternOf(localDateTimeSchema);
const clockPattern = patternOf(clockTimeSchema);

function textType(node: Node): string {
  if (node.format === "date") return "date";
  if (node.format === "date-time") return "instant";
  if (node.pattern === dateTimePattern) return "date and time";
  return node.pattern === clockPattern ? "time of day" : "text";
}

function scalarType(name: string, node: Node): string {
  if (node.const !== undefined) return JSON.stringify(node.const);
  if (node.enum !== undefined) return node.enum.join(", ");
  if (node.type === "boolean") return "true or false";
  if (node.type === "integer") return "whole number";
  if (node.type === "string") return textType(node);
  if (node.type === "number") return "number";
  if (node.type === "object" && node.additionalProperties !== undefined) return "members and their values";
  throw new Error(`no words for the type of ${name}: ${JSON.stringify(node)}`);
}

const isList = (node: Node): node is Node & { items: Node } => node.type === "array" && node.items !== undefined;
const isGround = (node: Node) => node.properties?.coordinates !== undefined;
const isObject = (node: Node): node is Node & { properties: Record<string, Node> } => node.properties !== undefined;

function typeWords(name: string, node: Node, owner: string): string {
  if (isGround(node))
    return tableParts.some((part) => part === owner) ? "ground in one cell" : "MultiPolygon (RFC 7946)";
  if (node.oneOf !== undefined || isObject(node)) return "object, below";
  if (!isList(node)) return scalarType(name, node);
  if (tableParts.some((part) => part === owner)) return "list in one cell";
  if (isObject(node.items) || node.items.oneOf !== undefined) return "list, below";
  return isList(node.items)
    ? `list of lists of ${scalarType(name, node.items.items)}`
    : `list of ${scalarType(name, node.items)}`;
}

/** An entry of a list that is filled in: its values, in the order of its properties. */
const entryWords = (entry: object) => Object.values(entry).join(": ");

function defaultWords(name: string, node: Node, required: readonly string[]): string {
  if (node.default === undefined) return required.includes(name) ? "required" : "may be left out";
  if (isObject(node)) return "as below";
  if (Array.isArray(node.default)) return node.default.map(entryWords).join("; ") || "none";
  return node.default === "" ? "empty" : String(node.default);
}

function row(name: string, node: Node, owner: string, required: readonly string[]): string {
  const isQuantity = node.type === "number" || node.type === "integer";
  const unit = isQuantity ? (unitOf(name) ?? unitOf(owner) ?? "") : "";
  const range = isQuantity && node.const === undefined ? rangeWords(node).replace(/^of /, "") : "";
  const cells = [`\`${name}\``, typeWords(name, node, owner), unit, range, defaultWords(name, node, required)];
  return `| ${[...cells, node.description ?? ""].join(" | ")} |`;
}

/** A table of an object's properties, then one for each object inside. */
export function tables(heading: string, owner: string, node: Node): string[] {
  if (node.oneOf !== undefined) {
    return node.oneOf.flatMap((option) => {
      const kind = Object.entries(option.properties ?? {}).find(([, property]) => property.const !== undefined);
      return tables(`${heading}, ${kind?.[0]} ${String(kind?.[1].const)}`, owner, option);
    });
  }
  const properties = Object.entries(node.properties ?? {});
  const head = "| property | type | unit | range | default | meaning |\n|---|---|---|---|---|---|";
  const rows = properties.map(([name, property]) => row(name, property, owner, node.required ?? []));
  const description = node.description === undefined ? "" : `${capital(node.description)}.\n\n`;
  const inner = properties.flatMap(([name, property]) => {
    if (isGround(property)) return [];
    const place = heading === "" ? name : `${heading}.${name}`;
    if (isList(property))
      return isObject(property.items) || property.items.oneOf !== undefined
        ? tables(`${place}[]`, name, property.items)
        : [];
    return isObject(property) || property.oneOf !== undefined ? tables(place, name, property) : [];
  });
  const title = heading === "" || heading === "[]" ? "" : `### ${heading}\n\n`;
  return [`${title}${description}${head}\n${rows.join("\n")}\n`, ...inner];
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
const isTable = (part: Part): part is TablePart => tableParts.some((name) => name === part);

/** The object that the tables of a file begin with. */
function rootOf(part: Part, node: Node): { heading: string; root: Node } {
  if (part === "fields" || part === "sensitive") {
    const feature = node.properties!.features!.items!;
    return { heading: "features[].properties", root: feature.properties!.properties! };
  }
  if (isTable(part)) return { heading: "", root: node.items! };
  return part === "products" || part === "locks" ? { heading: "[]", root: node.items! } : { heading: "", root: node };
}

function fileSection(part: Part, node: Node): string {
  const { heading, root } = rootOf(part, node);
  const title = `## ${fileOfPart[part]}${optionalParts.includes(part) ? " (may be left out)" : ""}`;
  // A table's cells hold no objects: its list of products is written as the text above says.
  const inTable = isTable(part) ? tables(heading, part, root).slice(0, 1) : tables(heading, part, root);
  return [title, "", partWords[part], "", inTable.join("\n")].join("\n");
}

export interface ScenarioName {
  folder: string;
  name: string;
  firstDay: string;
  days: number;
  timeZone: string;
}

/** The scenarios in a folder, by their operation.json; what-if cases lie beside them in a folder that has none. */
export async function scenarioNames(dir: string): Promise<ScenarioName[]> {
  const entries = await readdir(dir, { withFileTypes: true });
  const folders = entries.filter((entry) => entry.isDirectory() && !entry.name.startsWith(".")).map(({ name }) => name);
  const isScenario = await Promise.all(
    folders.map(async (folder) => (await readdir(join(dir, folder))).includes(fileOfPart.settings)),
  );
  const nameSchema = settingsSchema.pick({ name: true, firstDay: true, days: true, timeZone: true }).strip();
  return Promise.all(
    folders
      .filter((_, at) => isScenario[at])
      .sort()
      .map(async (folder) => {
        const text = await readFile(join(dir, folder, fileOfPart.settings), "utf8");
        return { folder, ...nameSchema.parse(JSON.parse(text)) };
      }),
  );
}

function scenarioTable(scenarios: readonly ScenarioName[]): string {
  const head = "## In this folder\n\n| folder | operation | first day | days | time zone |\n|---|---|---|---|---|";
  const rows = scenarios.map(
    ({ folder, name, firstDay, days, timeZone }) => `| \`${folder}\` | ${name} | ${firstDay} | ${days} | ${timeZone} |`,
  );
  return `${[head, ...rows].join("\n")}\n`;
}

/** What a scenario is, which are in the folder, and every file and property of one. */
export function scenariosReadme(scenarios: readonly ScenarioName[]): string {
  const parts = (z.toJSONSchema(operationSchema, { io: "input" }) as Node).properties!;
  const sections = partNames.map((part) => fileSection(part, parts[part]!));
  return [intro, scenarioTable(scenarios), conventions, ...sections].join("\n");
}
