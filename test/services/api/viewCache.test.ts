import { randomBytes } from "node:crypto";
import { gunzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { createViewCache } from "../../../services/api/viewCache.ts";

describe("views that are kept", () => {
  it("are made once for readers that come at once, and go out as they were made", async () => {
    const views = createViewCache();
    let made = 0;
    const make = async () => ({ number: ++made });
    const [one, other] = await Promise.all([views.get("a", make), views.get("a", make)]);
    expect(one).toBe(other);
    expect(await views.get("a", make)).toBe(one);
    expect(made).toBe(1);
    expect(one!.plain.toString()).toBe('{"number":1}');
    expect(gunzipSync(one!.gzipped).equals(one!.plain)).toBe(true);
    expect((await views.get("b", make))!.etag).not.toBe(one!.etag);
  });

  it("are not kept where there is nothing, or making fails", async () => {
    const views = createViewCache();
    expect(await views.get("a", async () => null)).toBeNull();
    await expect(views.get("a", () => Promise.reject(new Error("down")))).rejects.toThrow("down");
    expect((await views.get("a", async () => 7))!.plain.toString()).toBe("7");
  });

  it("are those read last, within so many bytes", async () => {
    const views = createViewCache(35_000);
    let made = 0;
    // Random text hardly packs, so that a view takes some 14,000 bytes plain and packed.
    const make = async () => ({ made: ++made, text: randomBytes(6_000).toString("base64") });
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
