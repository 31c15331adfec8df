import { describe, expect, it } from "vitest";
import { createPlaces } from "../../../services/worker/places.ts";
import { runsThatFit } from "../../../services/worker/runsThatFit.ts";

describe("places", () => {
  it("are given to as many at once as each allows, in the order in which they came", () => {
    const begun: string[] = [];
    const places = createPlaces();
    const enter = (name: string, most: number) => places.enter(most, () => begun.push(name));
    const leaveA = enter("a", 2);
    const leaveB = enter("b", 2);
    const leaveC = enter("c", 2);
    enter("d", 2);
    expect(begun).toEqual(["a", "b"]);
    leaveA();
    expect(begun).toEqual(["a", "b", "c"]);
    leaveB();
    leaveB();
    expect(begun).toEqual(["a", "b", "c", "d"]);
    leaveC();
    expect(begun).toHaveLength(4);
  });

  it("are not given to one that needs more room until the others have left, nor to one that no longer waits", () => {
    const begun: string[] = [];
    const places = createPlaces();
    const enter = (name: string, most: number) => places.enter(most, () => begun.push(name));
    const leaveSmall = enter("small", 3);
    enter("large", 1);
    const gone = enter("gone", 1);
    expect(begun).toEqual(["small"]);
    gone();
    leaveSmall();
    expect(begun).toEqual(["small", "large"]);
  });
});

it("runs that fit are several of small operations and one of any", () => {
  const orders = (count: number) => ({ orders: Array.from({ length: count }) as never[] });
  expect([5, 100, 500, 2_000, 10_000].map((count) => runsThatFit(orders(count)))).toEqual([5, 4, 2, 1, 1]);
});
