import { afterEach, describe, expect, it } from "vitest";
import { createMover, type Mover, type MoverLimits } from "../../../services/moves/mover.ts";
import { createKept } from "../../../services/threads/kept.ts";
import { emptyPlan } from "../../support/emptyPlan.ts";
import { smallOperation } from "../../support/operation.ts";

const script = new URL("./brokenThread.ts", import.meta.url);
let mover: Mover;
let errors: string[];
afterEach(() => mover.close());

function open(limits: Partial<MoverLimits>): void {
  errors = [];
  mover = createMover({ onError: (error) => errors.push(String(error)), limits, script });
}
const operation = smallOperation({});
const move = (planId: string) =>
  mover.move({
    operationKey: "one",
    planId,
    moves: [],
    isKept: false,
    readOperation: async () => operation,
    readPlan: async () => emptyPlan(operation, 1),
  });

describe("the thread that moves", () => {
  it("is started again after a crash, which costs whoever waits an answer and nobody else", async () => {
    open({});
    const [crashed, waiting] = await Promise.all([move("crash"), move("one")]);
    expect(crashed).toEqual({ status: "crashed" });
    expect(waiting).toEqual({ status: "crashed" });
    expect(errors.join()).toContain("it broke");
    expect(await move("two")).toMatchObject({ status: "answered", answer: { judgement: { planId: "two" } } });
    expect(errors).toHaveLength(1);
  });

  it("is ended where it is silent with a question before it", async () => {
    open({ answerMs: 300, silentMs: 8_000 });
    await expect.poll(() => move("one"), { timeout: 20_000 }).toMatchObject({ status: "answered" });
    const hanging = move("hang");
    expect(await hanging).toEqual({ status: "late" });
    expect(await move("one")).toEqual({ status: "late" });
    await expect.poll(() => errors, { timeout: 20_000 }).toContain("Error: moves: the thread was silent");
    await expect.poll(() => move("one"), { timeout: 20_000 }).toMatchObject({ status: "answered" });
  });

  it("takes so many questions at a time; what is late still counts", async () => {
    open({ most: 2, answerMs: 200, silentMs: 60_000 });
    const slow = [move("slow"), move("slow")];
    expect(await move("slow")).toEqual({ status: "busy" });
    expect(await Promise.all(slow)).toEqual([{ status: "late" }, { status: "late" }]);
    expect(await move("one")).toEqual({ status: "busy" });
  });
});

describe("what is kept", () => {
  it("is what was asked for last", async () => {
    open({});
    const kept = createKept<number>(2);
    kept.put("a", 1);
    kept.put("b", 2);
    expect(kept.get("a")).toBe(1);
    kept.put("c", 3);
    expect([kept.get("a"), kept.get("b"), kept.get("c")]).toEqual([1, undefined, 3]);
  });
});
