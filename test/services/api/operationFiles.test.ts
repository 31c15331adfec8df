import { randomUUID } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readScenario } from "../../../services/scenario/read.ts";
import type { FilesAnswer } from "../../../shared/contracts/operations.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { serveApi } from "./serveApi.ts";

const { get, post, put } = serveApi();
const folder = join(import.meta.dirname, "../../../scenarios/small");

/** The folder's files, of an operation of another name each time. */
async function filesOf(): Promise<Record<string, string>> {
  const names = await readdir(folder);
  const texts = await Promise.all(names.map(async (name) => [name, await readFile(join(folder, name), "utf8")]));
  const files = Object.fromEntries(texts) as Record<string, string>;
  const settings = JSON.parse(files["operation.json"]!) as Record<string, unknown>;
  return { ...files, "operation.json": JSON.stringify({ ...settings, name: `files ${randomUUID()}` }) };
}
const documentOf = async (id: string) => (await get<{ document: Operation }>(`/api/operations/${id}`)).body.document;
const placesOf = ({ faults = [] }: Problem) => faults.map(({ path }) => path);
const matching = (headers: Headers) => ({ "if-match": headers.get("etag")! });
const withoutName = ({ settings: { name: _, ...settings }, ...document }: Operation) => ({ settings, ...document });

describe("an operation as files", () => {
  it("is looked at before it is taken in, and is then what the command line makes of the folder", async () => {
    const files = await filesOf();
    const look = await post<FilesAnswer>("/api/operation-files?look=yes", { files });
    expect(look.status).toBe(200);
    expect(look.body).toMatchObject({ stored: false, operation: null });
    const added = Object.fromEntries(look.body.changes.map((one) => [one.name, one.added.length]));
    expect(added).toMatchObject({ orders: 5, fields: 4 });
    const { operations } = (await get<{ operations: unknown[] }>("/api/operations")).body;
    expect(operations).toEqual([]);

    const taken = await post<FilesAnswer>("/api/operation-files", { files });
    expect([taken.status, taken.body.stored]).toEqual([201, true]);
    const read = await readScenario(folder);
    if (!read.ok) throw new Error("the small scenario is faulty");
    expect(withoutName(await documentOf(taken.body.operation!.id))).toEqual(withoutName(read.operation));

    const again = await post<FilesAnswer>("/api/operation-files", { files });
    expect([again.status, again.body.stored, again.body.changes]).toEqual([200, false, []]);
  });

  it("is refused with every fault of every file, and nothing of it is stored", async () => {
    const files = await filesOf();
    const faulty: Record<string, string> = {
      ...files,
      "orders.csv": files["orders.csv"]!.replace(/,normal,/, ",urgent,"),
      "products.json": "[{]",
      "weahter.csv": files["weather.csv"]!,
    };
    delete faulty["weather.csv"];
    const { body, status } = await post<Problem>("/api/operation-files", { files: faulty });
    expect(status).toBe(422);
    const places = placesOf(body).map(([file, place]) => `${file}: ${String(place).replace(/ \(.*/, "")}`);
    expect(places).toContain("weahter.csv: the whole file");
    expect(places).toContain("weather.csv: the whole file");
    expect(places).toContain("products.json: line 1, column 3");
    expect(places.some((place) => /^orders[.]csv: row \d+, column priority/.test(place))).toBe(true);
    const name = (JSON.parse(files["operation.json"]!) as { name: string }).name;
    const { operations } = (await get<{ operations: { name: string }[] }>("/api/operations")).body;
    expect(operations.map((one) => one.name)).not.toContain(name);
  });

  it("changes by single files, with the hour of a new forecast, from what the caller has seen only", async () => {
    const files = await filesOf();
    const { body, headers } = await post<FilesAnswer>("/api/operation-files", { files });
    const { id } = body.operation!;
    const before = await documentOf(id);
    const address = `/api/operations/${id}/files`;
    const [header, ...rows] = files["orders.csv"]!.trimEnd().split("\n");
    const gone = before.orders.at(-1)!.id;
    const orders = {
      files: { "orders.csv": `${[header, ...rows.filter((row) => !row.startsWith(gone))].join("\n")}\n` },
    };

    const look = await put<FilesAnswer>(`${address}?look=yes`, orders, matching(headers));
    const change = { name: "orders", added: [], removed: [gone], changed: [], same: before.orders.length - 1 };
    expect(look.body).toMatchObject({ stored: false, changes: [change] });
    expect(await documentOf(id)).toEqual(before);
    const taken = await put<FilesAnswer>(address, orders, matching(headers));
    expect(taken.body).toMatchObject({ stored: true, operation: { version: 2 }, changes: [change] });
    expect(await documentOf(id)).toEqual({ ...before, orders: before.orders.slice(0, -1) });
    expect((await put<Problem>(address, orders, matching(headers))).status).toBe(412);
    expect((await put<Problem>(address, orders, {})).status).toBe(428);

    const calm = files["weather.csv"]!.replace(/\n([^,]+,[^,]+,[^,]+,[^,]+,[^,]+),[^,]+/, "\n$1,0.5");
    const issued = `${before.settings.firstDay}T03:30`;
    const forecast = { files: { "weather.csv": calm }, forecastIssued: issued };
    const newer = await put<FilesAnswer>(address, forecast, matching(taken.headers));
    expect(newer.body.changes.map(({ name }) => name).sort()).toEqual(["settings", "weather"]);
    const after = await documentOf(id);
    expect(after.settings.forecastIssued).toBe(issued);
    expect(after.weather[0]!.windKph).toBe(0.5);

    const broken = { files: { "weather.csv": calm.replace(",0.5,", ",-1,") } };
    const refused = await put<Problem>(address, broken, matching(newer.headers));
    expect([refused.status, placesOf(refused.body)]).toEqual([422, [["weather.csv", "row 2, column windKph"]]]);
    expect(await documentOf(id)).toEqual(after);
  });

  it("refuses what would be too much before anything is made of it, and another name", async () => {
    const files = await filesOf();
    const deep = await post<Problem>("/api/operation-files", { files: { ...files, "fleet.json": "[".repeat(70) } });
    expect([deep.status, placesOf(deep.body)]).toEqual([422, [["fleet.json", "the whole file"]]]);
    const wide = { ...files, "roads.csv": ",".repeat(3_000_001) };
    const { status, body } = await post<Problem>("/api/operation-files", { files: wide });
    expect([status, placesOf(body)]).toEqual([422, [["roads.csv", "the whole file"]]]);
    const first = await post<FilesAnswer>("/api/operation-files", { files });
    const other = { files: { "operation.json": (await filesOf())["operation.json"]! } };
    const address = `/api/operations/${first.body.operation!.id}/files`;
    const refused = await put<Problem>(address, other, matching(first.headers));
    expect([refused.status, placesOf(refused.body)]).toEqual([422, [["operation.json", "name"]]]);
  });
});
