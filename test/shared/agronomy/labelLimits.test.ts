import { describe, expect, test } from "vitest";
import { answersOf, type Situation } from "./oneOrder.ts";

function orderSentences(situation: Situation): string[] {
  const { agronomy, order } = answersOf({ days: 1, ...situation });
  return agronomy.orderLimits(order).map(({ limit, sentence }) => `${limit}: ${sentence}`);
}

function typeSentences(situation: Situation): string[] {
  const { agronomy, order, multirotor } = answersOf({ days: 1, ...situation });
  return agronomy.typeLimits(order, multirotor).map(({ limit, sentence }) => `${limit}: ${sentence}`);
}

const granular = { labels: [{ method: "granular" }], order: { carrierLPerHa: undefined } } as const;

describe("label", () => {
  test("rates from the least to the greatest are allowed", () => {
    const at = (ratePerHa: number) => orderSentences({ order: { products: [{ productId: "P1", ratePerHa }] } });
    expect(at(0.5)).toEqual([]);
    expect(at(2)).toEqual([]);
    expect(at(0.4)).toEqual(["label: Product 1 at 0.4 L/ha, label wants at least 0.5"]);
    expect(at(2.1)).toEqual(["label: Product 1 at 2.1 L/ha, label allows 2"]);
  });

  test("a crop that the label does not know is not allowed", () => {
    expect(orderSentences({ field: { crop: "hops" } })).toEqual([
      "label: Product 1 has no use on hops, label allows wheat",
    ]);
  });

  test("carrier volume must reach every label's least, for liquids only", () => {
    const labels = [{ carrierMinLPerHa: 10 }, { carrierMinLPerHa: 20 }];
    expect(orderSentences({ labels })).toEqual(["label: carrier 15 L/ha, label of Product 2 wants at least 20"]);
    expect(orderSentences({ labels, order: { carrierLPerHa: 20 } })).toEqual([]);
    expect(orderSentences(granular)).toEqual([]);
  });

  test("the order's droplet class must suit every label", () => {
    const labels = [{ dropletFinest: "F", dropletCoarsest: "C" }, { dropletFinest: "M" }] as const;
    expect(orderSentences({ labels, order: { dropletClass: "M" } })).toEqual([]);
    expect(orderSentences({ labels, order: { dropletClass: "F" } })).toEqual([
      "label: droplet class F, label allows M to C",
    ]);
  });

  test("labels without a class in common cannot be mixed", () => {
    const labels = [{ dropletCoarsest: "F" }, { dropletFinest: "M", dropletCoarsest: "C" }] as const;
    expect(orderSentences({ labels })).toEqual([
      "label: no droplet class suits all labels: Product 1 XF to F, Product 2 M to C",
    ]);
  });
});

describe("kind of aircraft", () => {
  test("without the gear cannot do it", () => {
    const { agronomy, order, multirotor } = answersOf({ days: 1 });
    const { liquid: _, ...withoutTank } = multirotor;
    expect(agronomy.typeLimits(order, withoutTank).map(({ sentence }) => sentence)).toEqual([
      "Small multirotor has no spray tank",
    ]);
    expect(typeSentences(granular)).toEqual([]);
  });

  test("releases no higher than the strictest label of the mix allows, granules too", () => {
    const { multirotor } = answersOf({ days: 1 });
    expect(multirotor.releaseHeightM).toBe(3);
    const labels = [{ releaseHeightMaxM: 3.5 }, { releaseHeightMaxM: 2.5 }, {}];
    expect(typeSentences({ labels })).toEqual([
      "releaseHeight: Small multirotor releases from 3 m, label of Product 2 allows 2.5",
    ]);
    expect(typeSentences({ labels: [{ releaseHeightMaxM: 3 }] })).toEqual([]);
    expect(typeSentences({ ...granular, labels: [{ method: "granular", releaseHeightMaxM: 2 }] })).toHaveLength(1);
  });

  // The small multirotor makes 110 to 400 µm. Older extension tables (MEMORY): VF 60-106, F 106-236, VC from 404 µm.
  test.each([
    ["VF", ["droplet: Small multirotor makes droplets of 110 to 400 µm, order and labels allow VF"]],
    ["F", []],
    ["C", []],
    ["VC", ["droplet: Small multirotor makes droplets of 110 to 400 µm, order and labels allow VC"]],
  ] as const)("makes %s or not: %j", (dropletClass, sentences) => {
    expect(typeSentences({ order: { dropletClass } })).toEqual(sentences);
  });

  test("any class that the labels allow will do when the order names none, and granules have no droplets", () => {
    expect(typeSentences({ labels: [{ dropletFinest: "C", dropletCoarsest: "UC" }] })).toEqual([]);
    expect(typeSentences({ labels: [{ dropletFinest: "VC" }] })).toHaveLength(1);
    expect(typeSentences({ ...granular, labels: [{ method: "granular", dropletFinest: "UC" }] })).toEqual([]);
  });

  // In EPA 2016 medium begins at 294 µm (older tables: 236); the other figures here are made up to go with it.
  test("the table of classes is the operation's", () => {
    const lowerUm = { XF: 0, VF: 60, F: 106, M: 294, C: 420, VC: 500, XC: 600, UC: 700 };
    const order = { dropletClass: "C" } as const;
    expect(typeSentences({ order })).toEqual([]);
    expect(typeSentences({ order, limits: { dropletTable: { source: "another table", lowerUm } } })).toHaveLength(1);
  });

  test("a field steeper than it may work is not for it", () => {
    expect(typeSentences({ field: { slopePct: 25 } })).toEqual([]);
    expect(typeSentences({ field: { slopePct: 30 } })).toEqual(["slope: slope 30 %, Small multirotor allows 25"]);
  });
});

test("dates, closures and entries stop the minutes that they name, and say so", () => {
  const { windows, sentencesAt } = answersOf({
    days: 1,
    order: { earliest: "2027-06-07T05:30", latest: "2027-06-07T20:00" },
    field: { closures: [{ from: "2027-06-07T10:00", to: "2027-06-07T12:15", reason: "irrigation" }] },
  });
  expect(windows).toEqual([
    ["2027-06-07 05:30", "2027-06-07 10:00"],
    ["2027-06-07 12:15", "2027-06-07 20:00"],
  ]);
  expect(sentencesAt("2027-06-07T05:29")).toEqual(["dates: order begins 2027-06-07 05:30"]);
  expect(sentencesAt("2027-06-07T20:00")).toEqual(["dates: order ends 2027-06-07 20:00"]);
  expect(sentencesAt("2027-06-07T11:00")).toEqual(["closed: field closed until 2027-06-07 12:15: irrigation"]);
});
