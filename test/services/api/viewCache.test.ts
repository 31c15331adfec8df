import { randomBytes } from "node:crypto";
import { gunzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { createViewCache, jsonOf, type Rendered, type Viewing } from "../../../services/api/viewCache.ts";

function rendered(view: Viewing): Rendered {
  if (view === null || view === "busy") throw new Error(`expected a view, not ${view}`);
  return view;
}

describe("views that are kept", () => {
  it("are made once for readers that come at once, and go out as they were made", async () => {
    const views = createViewCache();
    let made = 0;
    const make = async () => jsonOf({ number: ++made });
    const [one, other] = await Promise.all([views.get("a", make), views.get("a", make)]);
    expect(one).toBe(other);
    expect(await views.get("a", make)).toBe(one);
    expect(made).toBe(1);
    expect(rendered(one).plain.toString()).toBe('{"number":1}');
    expect(gunzipSync(rendered(one).gzipped).equals(rendered(one).plain)).toBe(true);
    expect(rendered(await views.get("b", make)).etag).not.toBe(rendered(one).etag);
  });

  it("are not kept where there is nothing, or making fails", async () => {
    const views = createViewCache();
    expect(await views.get("a", async () => null)).toBeNull();
    await expect(views.get("a", () => Promise.reject(new Error("down")))).rejects.toThrow("down");
    expect(rendered(await views.get("a", async () => jsonOf(7))).plain.toString()).toBe("7");
  });

  it("are not waited for without end; what comes too late for one reader is there for the next", async () => {
    const views = createViewCache(undefined, 20);
    let tell: (view: ReturnType<typeof jsonOf>) => void = () => undefined;
    const made = new Promise<ReturnType<typeof jsonOf>>((resolve) => {
      tell = resolve;
    });
    expect(await views.get("a", () => made)).toBe("busy");
    tell(jsonOf(7));
    await expect.poll(() => views.get("a", async () => null)).toMatchObject({ plain: Buffer.from("7") });
  });

  it("are not kept where the maker is busy", async () => {
    const views = createViewCache();
    expect(await views.get("a", async () => "busy")).toBe("busy");
    expect(rendered(await views.get("a", async () => jsonOf(7))).plain.toString()).toBe("7");
  });

  it("are those read last, within so many bytes", async () => {
    const views = createViewCache(35_000);
    let made = 0;
    // Random text hardly packs, so that a view takes some 14,000 bytes plain and packed.
    const make = async () => jsonOf({ made: ++made, text: randomBytes(6_000).toString("base64") });
    await views.get("a", make);
    await views.get("b", make);
    await views.get("a", make);
    await views.get("c", make);
    await views.get("a", make);
    expect(made).toBe(3);
    await views.get("b", make);
    expect(made).toBe(4);
  });
});
