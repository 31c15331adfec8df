import { afterEach, describe, expect, it } from "vitest";
import { type AppParts, createApp } from "../../../services/api/app.ts";
import { listen } from "../../../services/api/listen.ts";
import type { Store } from "../../../services/store/store.ts";
import type { AskedThreadLimits } from "../../../services/threads/askedThread.ts";
import { type Asked, createViewMaker, type ViewMaker } from "../../../services/views/viewMaker.ts";
import { access, everybody } from "../../support/acting.ts";
import { temporaryFolder } from "../../support/servers.ts";
import { viewOperation, viewPlan, viewReport } from "../../support/viewPlan.ts";

const standIn = new URL("./standInThread.ts", import.meta.url);
const operation = viewOperation();
const viewed = { operation, plan: viewPlan(operation), report: viewReport as never };
const date = "2027-03-26";
let maker: ViewMaker;
let errors: string[];
let reads: number;
afterEach(() => maker.close());

function open(limits: Partial<AskedThreadLimits>, script?: URL): void {
  errors = [];
  reads = 0;
  maker = createViewMaker({
    onError: (error) => errors.push(String(error)),
    limits,
    ...(script === undefined ? {} : { script }),
  });
}
/** What the stand-in is to do stands in place of the crew. */
const sheet = (crewId: string, planId = "one") =>
  maker.ofPlan({
    planId,
    wanted: { kind: "sheet", crewId, date, publication: null },
    readViewed: async () => {
      reads++;
      return planId === "unknown" ? null : viewed;
    },
  });
const bodyOf = (asked: Asked) => {
  if (asked === null || asked === "busy") return asked;
  return JSON.parse(Buffer.from(asked.bytes).toString()) as { crewId: string; plans: number };
};

describe("the threads that make views", () => {
  it("are sent a plan once, however many ask for views of it at the same time", async () => {
    open({}, standIn);
    const many = await Promise.all(Array.from({ length: 20 }, () => sheet("0")));
    expect(many.map(bodyOf)).toEqual(many.map(() => ({ crewId: "0", plans: 1 })));
    expect(bodyOf(await sheet("0"))).toEqual({ crewId: "0", plans: 1 });
    expect(reads).toBe(1);
    expect(await sheet("0", "unknown")).toBeNull();
  });

  it("are started again when they end, and whoever waits is told to ask again", async () => {
    open({}, standIn);
    await sheet("0");
    expect(await Promise.all([sheet("crash"), sheet("0")])).toEqual(["busy", "busy"]);
    expect(errors.join()).toContain("it broke");
    expect(bodyOf(await sheet("0"))).toEqual({ crewId: "0", plans: 1 });
    expect(errors).toHaveLength(1);
  });

  it("cost nobody else anything where one view cannot be made", async () => {
    open({}, standIn);
    await sheet("0");
    const [failed, other] = await Promise.all([sheet("fail"), sheet("0")]);
    expect(failed).toBe("busy");
    expect(bodyOf(other)).toEqual({ crewId: "0", plans: 1 });
    expect(errors).toEqual(["Error: views: a bug"]);
  });

  it("give their memory back when nobody asks", async () => {
    open({ restMs: 50 }, standIn);
    await sheet("0");
    await new Promise((resolve) => setTimeout(resolve, 300));
    await sheet("0");
    expect(reads).toBe(2);
    expect(errors).toEqual([]);
  });

  it("make papers beside what screens wait for", async () => {
    open({});
    const of = (kind: "week" | "calm" | "weekMap") =>
      maker.ofPlan({ planId: "one", wanted: { kind }, readViewed: async () => viewed });
    const [week, calm, map] = await Promise.all([of("week"), of("calm"), of("weekMap")]);
    expect(bodyOf(week)).toMatchObject({ days: expect.anything() });
    expect(bodyOf(calm)).toMatchObject({ ableHa: expect.any(Number) });
    expect(bodyOf(map)).toMatchObject({ fields: expect.anything() });
    expect(await sheet("nobody")).toBeNull();
    expect(errors).toEqual([]);
  });
});

describe("callers", () => {
  it("are answered while a view is being made, and refused for some seconds when too many are waiting", async () => {
    open({ most: 1 }, standIn);
    const page = temporaryFolder();
    const store = {
      plan: async () => ({ operationId: "one", version: 1, plan: viewed.plan }),
      operationVersion: async () => ({ document: operation }),
      checkReport: async () => viewReport,
    } as unknown as Store;
    // Without what the routes called here do not ask for.
    const parts: Partial<AppParts> = {
      store,
      maker,
      access,
      onError: (error) => errors.push(String(error)),
      authenticate: async () => ({ status: "known", actor: everybody }),
      pageFolder: page.folder,
    };
    const bound = await listen(createApp(parts as AppParts), { host: "127.0.0.1", port: 18_680, orNext: true });
    if (bound.status !== "listening") throw new Error("no free port");
    const at = (path: string) => fetch(`http://127.0.0.1:${bound.api.port}${path}`);
    const day = (crewId: string) => at(`/api/plans/00000000-0000-4000-8000-000000000001/crews/${crewId}/days/${date}`);
    await (await day("0")).text();
    const order: string[] = [];
    const slow = day("1500").then(() => order.push("sheet"));
    // By then the thread is at it.
    await new Promise((resolve) => setTimeout(resolve, 200));
    const refused = await day("1");
    expect([refused.status, refused.headers.get("retry-after")]).toEqual([503, "3"]);
    expect((await at("/health/live")).status).toBe(200);
    order.push("alive");
    await slow;
    expect(order).toEqual(["alive", "sheet"]);
    await bound.api.close();
    page.remove();
    expect(errors).toEqual([]);
  });
});
