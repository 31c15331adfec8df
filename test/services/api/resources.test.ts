import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { Fault, Problem } from "../../../shared/contracts/problem.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { listResources } from "../../../shared/model/resources.ts";
import { richOperation } from "../../support/richOperation.ts";
import { serveApi } from "./serveApi.ts";

const { call, get, post, put, importOperation } = serveApi();

interface Listed {
  version: number;
  total: number;
  entries: { key: string; etag: string; entry: Record<string, unknown> }[];
  next: string | null;
}
interface Changed extends Problem {
  operation: OperationSummary;
  defaultsUsed: { path: string[] }[];
}

const match = (etag: string) => ({ "if-match": etag.startsWith('"') ? etag : `"${etag}"` });
const fresh = { "if-none-match": "*" };
const places = (problem: Problem) => (problem.faults as Fault[]).map(({ path }) => path.join("."));

/** An operation that has at least one of everything, by another name each time. */
async function stored(): Promise<{ address: string; operation: Operation }> {
  const operation = richOperation();
  const [crew] = operation.fleet.crews;
  operation.settings.name = `single things ${randomUUID()}`;
  operation.locks = [{ crewId: crew!.id, date: crew!.shifts[0]!.date, stops: [], inOrder: false, nothingElse: false }];
  const { body } = await importOperation(operation);
  return { address: `/api/operations/${body.operation.id}`, operation };
}
const documentAt = async (address: string) => (await get<{ document: Operation }>(address)).body.document;

describe.each(listResources.map((resource) => [resource.name, resource] as const))("%s", (name, { path, keyOf }) => {
  it("are listed, read, changed, and changed by nobody who has not seen what is there", async () => {
    const { address, operation } = await stored();
    const inDocument = (document: unknown) =>
      path.reduce((at, step) => (at as Record<string, unknown>)[step], document) as Record<string, unknown>[];
    const list = await get<Listed>(`${address}/${name}`);
    // There is a tag only of what can be changed by it.
    expect(list.headers.get("etag")).toBeNull();
    const listed = list.body;
    expect(listed).toMatchObject({ version: 1, total: inDocument(operation).length, next: null });
    expect(listed.entries.map(({ entry }) => entry)).toEqual(inDocument(operation));
    expect(listed.entries.length).toBeGreaterThan(0);

    const { key, etag, entry } = listed.entries[0]!;
    const at = `${address}/${name}/${encodeURIComponent(key)}`;
    const read = await get(at);
    expect(read.body).toEqual(entry);
    expect(read.headers.get("etag")).toBe(`"${etag}"`);

    const changed = changedEntry(name, entry);
    expect((await put<Problem>(at, changed, {})).status).toBe(428);
    expect((await put<Problem>(at, changed, match("0".repeat(32)))).status).toBe(412);
    expect((await put<Problem>(at, changed, fresh)).status).toBe(412);
    // Nothing in the place of a thing is a fault, and takes nothing away.
    for (const nothing of [null, 0, []]) expect((await put<Problem>(at, nothing, match(etag))).status).toBe(422);
    expect((await get(at)).body).toEqual(entry);
    const made = await put<Changed>(at, changed, match(etag));
    expect(made).toMatchObject({ status: 200, body: { operation: { version: 2 }, defaultsUsed: [] } });

    const expected = structuredClone(operation);
    inDocument(expected)[0] = changed;
    expect(await documentAt(address)).toEqual(expected);
    expect((await get(at)).headers.get("etag")).toBe(made.headers.get("etag"));
    expect(keyOf(changed)).toBe(key);

    expect((await put<Problem>(at, entry, match(etag))).status).toBe(412);
    // What stands already is no change, whoever sends it again.
    const again = await put<Changed>(at, changed, match(etag));
    expect(again).toMatchObject({ status: 200, body: { operation: { version: 2 } } });
  });
});

/** Another entry of the same key that may stand in its place. */
function changedEntry(name: string, entry: Record<string, unknown>): Record<string, unknown> {
  const properties = entry.properties as Record<string, unknown> | undefined;
  if (properties) return { ...entry, properties: { ...properties, name: "another name" } };
  const changes: Record<string, Record<string, unknown>> = {
    orders: { notes: "another note" },
    aircraft: { outOfService: [{ from: "2030-01-01", to: "2030-01-02" }] },
    "battery-stocks": { sets: Number(entry.sets) + 1 },
    chargers: { kw: Number(entry.kw) + 1 },
    locks: { nothingElse: true },
  };
  return { ...entry, ...(changes[name] ?? { name: "another name" }) };
}

describe("orders", () => {
  it("are added, and taken away, as long as the operation is then whole", async () => {
    const { address, operation } = await stored();
    const [first] = operation.orders;
    const added = { ...first!, id: "O-new", apartFrom: [] };
    const at = `${address}/orders/O-new`;
    expect((await get(at)).status).toBe(404);
    const made = await put<Changed>(at, added, fresh);
    expect(made).toMatchObject({ status: 201, body: { operation: { version: 2 } } });
    expect((await put<Changed>(at, added, fresh)).status).toBe(200);
    expect((await put<Problem>(at, { ...added, notes: "other" }, fresh)).status).toBe(412);
    expect((await documentAt(address)).orders).toEqual([...operation.orders, added]);

    const faulty = await put<Problem>(
      `${address}/orders/O-bad`,
      { ...added, id: "O-bad", fieldId: "nowhere", products: [{ productId: "NONE", ratePerHa: 1 }] },
      fresh,
    );
    expect(faulty.status).toBe(422);
    const place = `orders.${operation.orders.length + 1}`;
    expect(places(faulty.body).sort()).toEqual([`${place}.fieldId`, `${place}.products.0.productId`]);
    const other = await put<Problem>(`${address}/orders/O-other`, added, fresh);
    expect(other).toMatchObject({
      status: 422,
      body: { faults: [{ value: "O-new", expected: "O-other, as in the address" }] },
    });

    const remove = (path: string, headers: Record<string, string>) => call<Changed>("DELETE", path, { headers });
    expect((await remove(at, {})).status).toBe(428);
    expect((await remove(at, match("stale"))).status).toBe(412);
    expect((await remove(at, match(made.headers.get("etag")!))).body.operation.version).toBe(3);
    expect((await remove(at, match(made.headers.get("etag")!))).status).toBe(404);
    expect((await documentAt(address)).orders).toEqual(operation.orders);

    const field = `${address}/fields/${first!.fieldId}`;
    const needed = await remove(field, match((await get(field)).headers.get("etag")!));
    expect(needed.status).toBe(422);
    expect(places(needed.body)).toContain("orders.0.fieldId");
    expect((await get<OperationSummary>(address)).body.version).toBe(3);
  });

  it("tell which values were filled in for what was left out", async () => {
    const { address, operation } = await stored();
    const { priority: _, maySplit: __, ...rest } = { ...operation.orders[0]!, id: "O-new", apartFrom: [] };
    const made = await put<Changed>(`${address}/orders/O-new`, rest, fresh);
    expect(made.body.defaultsUsed.map(({ path }) => path.at(-1)).sort()).toEqual(["maySplit", "priority"]);
  });

  it("are changed side by side by as many as like; of those who change the same one, one is first", async () => {
    const { address, operation } = await stored();
    const listed = (await get<Listed>(`${address}/orders`)).body.entries;
    const change = ({ key, etag, entry }: Listed["entries"][number], notes: string) =>
      put<Changed>(`${address}/orders/${key}`, { ...entry, notes }, match(etag));
    const side = await Promise.all(listed.slice(0, 4).map((one) => change(one, `by ${one.key}`)));
    expect(side.map(({ status }) => status)).toEqual([200, 200, 200, 200]);
    expect(new Set(side.map(({ body }) => body.operation.version))).toEqual(new Set([2, 3, 4, 5]));
    const after = (await documentAt(address)).orders.map(({ notes }) => notes);
    expect(after).toEqual(operation.orders.map(({ id, notes }, at) => (at < 4 ? `by ${id}` : notes)));

    const one = (await get<Listed>(`${address}/orders`)).body.entries[0]!;
    const same = await Promise.all(["a", "b", "c"].map((notes) => change(one, notes)));
    expect(same.map(({ status }) => status).sort()).toEqual([200, 412, 412]);
  });

  it("are told by pages and filters", async () => {
    const { address, operation } = await stored();
    const { orders } = operation;
    const seen: string[] = [];
    for (let cursor: string | null = ""; cursor !== null; ) {
      const page: Listed = (await get<Listed>(`${address}/orders?limit=2${cursor && `&cursor=${cursor}`}`)).body;
      expect(page.entries.length).toBeLessThanOrEqual(2);
      expect(page.total).toBe(orders.length);
      seen.push(...page.entries.map(({ key }) => key));
      cursor = page.next;
    }
    expect(seen).toEqual(orders.map(({ id }) => id));

    const keys = async (query: string) =>
      (await get<Listed>(`${address}/orders?${query}`)).body.entries.map(({ key }) => key);
    const cropOf = (fieldId: string) =>
      operation.fields.features.find((one) => one.properties.id === fieldId)!.properties.crop;
    const idsWhere = (fits: (order: Operation["orders"][number]) => boolean) => orders.filter(fits).map(({ id }) => id);
    const { fieldId, priority, products } = orders[1]!;
    const crop = cropOf(fieldId);
    const productId = products[0]!.productId;
    expect(await keys(`field=${fieldId}`)).toEqual(idsWhere((order) => order.fieldId === fieldId));
    expect(await keys(`priority=${priority}`)).toEqual(idsWhere((order) => order.priority === priority));
    expect(await keys(`crop=${crop}`)).toEqual(idsWhere((order) => cropOf(order.fieldId) === crop));
    expect(await keys(`product=${productId}&field=${fieldId}`)).toEqual(
      idsWhere((order) => order.fieldId === fieldId && order.products.some((one) => one.productId === productId)),
    );
    expect(await keys(`text=${orders[1]!.id.toLowerCase()}`)).toContain(orders[1]!.id);
    expect(await keys("text=nowhere%20to%20be%20found")).toEqual([]);
    for (const query of ["limit=0", "limit=501", "limit=x", "cursor=%2e", "text="]) {
      expect((await get(`${address}/orders?${query}`)).status).toBe(400);
    }
    expect(await get(`${address}/orders?limt=5`)).toMatchObject({
      status: 400,
      body: { faults: [{ path: ["limt"], expected: expect.stringContaining("(perhaps limit)") }] },
    });
    expect(await get(`${address}?limit=5`)).toMatchObject({
      status: 400,
      body: { faults: [{ path: ["limit"], expected: "no such name" }] },
    });
    const gone = Buffer.from(JSON.stringify("O-gone")).toString("base64url");
    expect((await get(`${address}/orders?cursor=${gone}`)).status).toBe(400);
  });
});

describe("what is changed as a whole", () => {
  it("is the weather, with the time at which the forecast was issued", async () => {
    const { address, operation } = await stored();
    const read = await get<{ steps: Operation["weather"] }>(`${address}/weather`);
    expect(read.body.steps).toEqual(operation.weather);
    const forecast = {
      forecastIssued: `${operation.settings.firstDay}T00:00`,
      steps: operation.weather.map((step) => ({ ...step, gustKph: step.gustKph + 1 })),
    };
    const made = await put<Changed>(`${address}/weather`, forecast, match(read.headers.get("etag")!));
    expect(made).toMatchObject({ status: 200, body: { operation: { version: 2 } } });
    expect(await documentAt(address)).toEqual({
      ...operation,
      settings: { ...operation.settings, forecastIssued: forecast.forecastIssued },
      weather: forecast.steps,
    });
    const etag = made.headers.get("etag")!;
    expect((await get(`${address}/weather`)).headers.get("etag")).toBe(etag);
    for (const [body, place] of [
      [{ steps: [], wind: 3 }, "wind"],
      [{}, "steps"],
      [{ steps: [{ ...forecast.steps[0], windKph: -1 }] }, "weather.0.windKph"],
      [{ ...forecast, forecastIssued: "yesterday" }, "settings.forecastIssued"],
    ] as const) {
      const refused = await put<Problem>(`${address}/weather`, body, match(etag));
      expect(refused.status).toBe(422);
      expect(places(refused.body)).toContain(place);
    }
  });

  it.each(["settings", "roads", "hire"])("is %s", async (name) => {
    const { address, operation } = await stored();
    const changes = {
      settings: { ...operation.settings, altitudeM: 12 },
      roads: [{ from: operation.settings.bases[0]!.id, to: "nowhere", distanceKm: 1, durationMin: 2 }],
      hire: [
        {
          kind: "charger",
          bays: 2,
          kw: 9,
          baseIds: [operation.settings.bases[0]!.id],
          most: 1,
          hireCents: 5,
          per: "day",
        },
      ],
    };
    const read = await get(`${address}/${name}`);
    const etag = read.headers.get("etag")!;
    expect((await put<Changed>(`${address}/${name}`, read.body, match(etag))).body.operation.version).toBe(1);
    const made = await put<Changed>(`${address}/${name}`, changes[name as keyof typeof changes], match(etag));
    if (name === "roads") {
      expect(made.status).toBe(422);
      expect(places(made.body)).toEqual(["roads.0.to"]);
    } else {
      expect((await get(`${address}/${name}`)).body).toEqual(changes[name as keyof typeof changes]);
      expect((await put<Problem>(`${address}/${name}`, read.body, match(etag))).status).toBe(412);
    }
  });

  it("keeps its name, by which the operation is known", async () => {
    const { address, operation } = await stored();
    const settings = { ...operation.settings, name: "another" };
    const etag = (await get(`${address}/settings`)).headers.get("etag")!;
    const renamed = await put<Problem>(`${address}/settings`, settings, match(etag));
    expect(renamed.status).toBe(422);
    expect(places(renamed.body)).toEqual(["settings.name"]);
    const whole = await put<Problem>(
      address,
      { ...operation, settings },
      match((await get(address)).headers.get("etag")!),
    );
    expect(places(whole.body)).toEqual(["settings.name"]);
  });

  it("is the document", async () => {
    const { address, operation } = await stored();
    const etag = (await get(address)).headers.get("etag")!;
    const other = { ...operation, orders: operation.orders.slice(0, 2) };
    expect((await put<Problem>(address, other, {})).status).toBe(428);
    expect((await put<Problem>(address, { ...other, fleet: {} }, match(etag))).status).toBe(422);
    const made = await put<Changed>(address, other, match(etag));
    expect(made).toMatchObject({ status: 200, body: { operation: { version: 2 } } });
    expect((await get(address)).headers.get("etag")).toBe(made.headers.get("etag"));
    expect((await put<Problem>(address, operation, match(etag))).status).toBe(412);
    expect((await put<Changed>(address, other, match(etag))).status).toBe(200);
    expect((await put<Problem>(`/api/operations/${randomUUID()}`, other, match(etag))).status).toBe(404);
    // Back to what was: another version, so whoever has read the first must read again.
    await put(address, operation, match(made.headers.get("etag")!));
    expect((await put<Problem>(address, other, match(etag))).status).toBe(412);
  });

  it("has a list of versions that tells who made them, and what is other in them", async () => {
    const { address, operation } = await stored();
    const { id } = operation.orders[0]!;
    const order = await get<object>(`${address}/orders/${id}`);
    await put(`${address}/orders/${id}`, { ...order.body, notes: "x" }, match(order.headers.get("etag")!));
    await importOperation(operation);
    const all = (await get<{ versions: object[]; next: null }>(`${address}/versions`)).body;
    const by = { kind: "person", name: "everybody" };
    expect(all).toMatchObject({
      versions: [
        { version: 3, by, action: "importOperation", resource: null, key: null, changed: ["orders"] },
        { version: 2, by, action: "putOrder", resource: "orders", key: id, changed: ["orders"] },
        { version: 1, by, action: "importOperation", changed: Object.keys(operation).sort() },
      ],
      next: null,
    });
    const first = (await get<{ versions: object[]; next: string }>(`${address}/versions?limit=2`)).body;
    const second = (await get<{ versions: object[]; next: null }>(`${address}/versions?limit=2&cursor=${first.next}`))
      .body;
    expect([...first.versions, ...second.versions]).toEqual(all.versions);
    expect((await get(`/api/operations/${randomUUID()}/versions`)).status).toBe(404);
  });
});

describe("what is read again", () => {
  it("is not sent while it is the same", async () => {
    const { address, operation } = await stored();
    for (const path of [address, `${address}/settings`, `${address}/orders/${operation.orders[0]!.id}`]) {
      const etag = (await get(path)).headers.get("etag")!;
      expect(etag).toMatch(/^"[^"]+"$/);
      const again = await call("GET", path, { headers: { "if-none-match": etag } });
      expect([again.status, again.headers.get("etag")]).toEqual([304, etag]);
      expect((await call("GET", path, { headers: { "if-none-match": '"other"' } })).status).toBe(200);
    }
  });
});

describe("lists of operations, plan requests, sets and studies", () => {
  it("come by pages", async () => {
    const { address, operation } = await stored();
    const asked: string[] = [];
    for (let n = 0; n < 5; n++)
      asked.unshift((await post<{ id: string }>(`${address}/plans`, { seconds: 600 })).body.id);
    for (const id of asked.slice(0, 3)) await call("POST", `/api/plan-requests/${id}/cancel`, {});
    type Page = { planRequests: { id: string; status: string }[]; next: string | null };
    const seen: string[] = [];
    for (let cursor: string | null = ""; cursor !== null; ) {
      const page: Page = (await get<Page>(`${address}/plans?limit=2${cursor && `&cursor=${cursor}`}`)).body;
      seen.push(...page.planRequests.map(({ id }) => id));
      cursor = page.next;
    }
    expect(seen).toEqual(asked);
    const cancelled = (await get<Page>(`${address}/plans?status=cancelled`)).body.planRequests.map(({ id }) => id);
    expect(cancelled).toEqual(expect.arrayContaining(asked.slice(0, 2)));
    expect(cancelled.length).toBeLessThan(5);
    for (const id of asked) await call("POST", `/api/plan-requests/${id}/cancel`, {});

    const names = async (query: string) =>
      (await get<{ operations: OperationSummary[]; next: string | null }>(`/api/operations?${query}`)).body;
    const text = encodeURIComponent(operation.settings.name.toUpperCase());
    expect((await names(`text=${text}`)).operations.map(({ name }) => name)).toEqual([operation.settings.name]);
    const all = (await names("")).operations.map(({ name }) => name);
    const first = await names("limit=1");
    const rest = await names(`limit=500&cursor=${first.next}`);
    expect([...first.operations, ...rest.operations].map(({ name }) => name)).toEqual(all);
    const zero = Buffer.from(JSON.stringify("a\u0000")).toString("base64url");
    for (const query of ["text=%00", "text=", `cursor=${zero}`, "cursor=x", "limit=501"]) {
      expect((await get(`/api/operations?${query}`)).status).toBe(400);
    }
    for (const path of ["plans?status=unknown", "plans?cursor=eHk", "studies?kind=x", "case-sets?cursor=eHk"]) {
      expect((await get(`${address}/${path}`)).status).toBe(400);
    }
    for (const path of ["studies?status=done&kind=cases", "case-sets?limit=3"]) {
      expect(await get(`${address}/${path}`)).toMatchObject({ status: 200, body: { next: null } });
    }
  });
});

describe("bodies", () => {
  const send = (path: string, body: string | Uint8Array<ArrayBuffer>, contentType = "application/json") =>
    call<Problem>("PUT", path, { body, headers: { "content-type": contentType, ...fresh } });
  const nested = (depth: number) => `${"[".repeat(depth)}${"]".repeat(depth)}`;

  it("are refused when they are too deep, too large for one thing, or not in UTF-8", async () => {
    const { address } = await stored();
    const at = `${address}/orders/O-new`;
    expect(await send(at, nested(65))).toMatchObject({
      status: 413,
      body: { detail: expect.stringContaining("64 deep") },
    });
    expect((await send(at, nested(64))).status).toBe(422);
    expect((await send(at, nested(400_000))).status).toBe(413);
    expect((await send(at, `"${"x".repeat(1_100_000)}"`)).status).toBe(413);
    expect((await send(`${address}/weather`, `"${"x".repeat(1_100_000)}"`)).status).toBe(422);
    expect((await send(`${address}/weather`, `[${"[],".repeat(3_000_000)}[]]`)).status).toBe(413);
    const utf16 = new Uint8Array(Buffer.from("{}", "utf16le"));
    expect((await send(at, utf16, "application/json; charset=utf-16le")).status).toBe(415);
  });

  it("may have members of any name; those of objects themselves do no harm", async () => {
    const { address, operation } = await stored();
    const [order] = operation.orders;
    const [field] = operation.fields.features;
    for (const member of ["__proto__", "constructor", "prototype", "toString"]) {
      const hostile = `,"${member}":{"polluted":true}}`;
      const text = JSON.stringify({ ...order, id: "O-new", apartFrom: [] });
      const refused = await send(`${address}/orders/O-new`, text.slice(0, -1) + hostile);
      expect(refused.status).toBe(422);
      expect(places(refused.body)).toEqual([`orders.${operation.orders.length}.${member}`]);
      // GeoJSON allows foreign members (RFC 7946, section 6.1): they are dropped.
      const feature = JSON.stringify({ ...field, properties: { ...field!.properties, id: "F-new" } });
      const made = await send(`${address}/fields/F-new`, feature.slice(0, -1) + hostile);
      expect([200, 201]).toContain(made.status);
    }
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    const fields = JSON.stringify((await documentAt(address)).fields);
    expect(fields).toContain("F-new");
    expect(fields).not.toContain("polluted");
  });
});
