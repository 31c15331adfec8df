import { describe, expect, it } from "vitest";
import { shareAsks } from "../../../services/store/shareAsks.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const later = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

describe("answers that are shared", () => {
  it("were asked for after their askers came, in far fewer asks, key by key", async () => {
    const random = seededRandom(3);
    let clock = 0;
    let asks = 0;
    const ask = shareAsks(async (key) => {
      asks++;
      const begunAt = ++clock;
      await later(4);
      return { key, begunAt };
    });
    const callers = Array.from({ length: 300 }, async (_, at) => {
      await later(20 * random());
      const key = at % 3 === 0 ? "a" : "b";
      const cameAt = ++clock;
      const answer = await ask(key);
      expect(answer.key).toBe(key);
      expect(answer.begunAt).toBeGreaterThan(cameAt);
    });
    await Promise.all(callers);
    expect(asks).toBeLessThan(100);
  });

  it("fail for those who share the failure, and not for those who come later", async () => {
    let asks = 0;
    const ask = shareAsks(async () => {
      await later(2);
      if (++asks === 2) throw new Error("no answer");
      return asks;
    });
    const [first, ...shared] = await Promise.allSettled([ask("a"), ask("a"), ask("a")]);
    expect(first).toEqual({ status: "fulfilled", value: 1 });
    expect(shared.map(({ status }) => status)).toEqual(["rejected", "rejected"]);
    expect(await ask("a")).toBe(3);
    expect(asks).toBe(3);
  });
});
