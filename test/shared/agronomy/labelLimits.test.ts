import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { figures } from "../../../shared/agronomy/limits.ts";
import { calendarOf, rectangleField, smallOperation } from "../../support/operation.ts";
import { answersOf, fieldPlace, type Situation } from "./oneOrder.ts";

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
    expect(at(0.4)).toEqual(["label: Product 1 at 0.4 L/ha, label wants at least 0.5 L/ha"]);
    expect(at(2.1)).toEqual(["label: Product 1 at 2.1 L/ha, label allows 2 L/ha"]);
  });

  test("a powder is told by weight, in a liquid mix too", () => {
    const labels = [{ rateUnit: "kg", use: { seasonMaxPerHa: 2.5 } }, {}] as const;
    const products = [
      { productId: "P1", ratePerHa: 2.6 },
      { productId: "P2", ratePerHa: 2.6 },
    ];
    expect(orderSentences({ labels, order: { products } })).toEqual([
      "label: Product 1 at 2.6 kg/ha, label allows 2 kg/ha",
      "label: Product 2 at 2.6 L/ha, label allows 2 L/ha",
      "seasonMax: Product 1 2.6 kg/ha this season with this order, label allows 2.5 kg/ha",
    ]);
  });

  test("a rate that is a hair too great is told apart from the label's without the noise of its sums", () => {
    const at = (ratePerHa: number) => orderSentences({ order: { products: [{ productId: "P1", ratePerHa }] } });
    expect(1.9 + 0.1000001).toBe(2.0000001);
    expect(at(1.9 + 0.1000001)).toEqual(["label: Product 1 at 2.0000001 L/ha, label allows 2 L/ha"]);
    expect(at(2 + 2 ** -51)).toEqual(["label: Product 1 at just over 2 L/ha, label allows 2 L/ha"]);
    expect(at(0.5 - 2 ** -53)).toEqual(["label: Product 1 at just under 0.5 L/ha, label wants at least 0.5 L/ha"]);
  });

  test("a crop that the label does not know is not allowed", () => {
    expect(orderSentences({ field: { crop: "hops" } })).toEqual([
      "label: Product 1 has no use on hops, label allows wheat",
    ]);
  });

  test("carrier volume must reach every label's least, for liquids only", () => {
    const labels = [{ carrierMinLPerHa: 10 }, { carrierMinLPerHa: 20 }];
    expect(orderSentences({ labels })).toEqual(["label: carrier 15 L/ha, label of Product 2 wants at least 20 L/ha"]);
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

describe("figures", () => {
  test.each([
    [21, 15, ["21", "15"]],
    [21.04, 15, ["21", "15"]],
    [8.2, 8, ["8.2", "8"]],
    [39.5, 40, ["39.5", "40"]],
    [8.0004, 8, ["8.0004", "8"]],
    [3.0000001000000003, 3, ["3.0000001", "3"]],
    [0.1 + 0.2, 0.3, ["just over 0.3", "0.3"]],
    [0.3, 0.1 + 0.2, ["just under 0.3", "0.3"]],
    [5, 5, ["5", "5"]],
    [0.0000003, 0, ["0.0000003", "0"]],
    [-0.00000001, 0, ["-0.00000001", "0"]],
    [1000, 1200, ["1000", "1200"]],
  ] as const)("%d against %d are %j", (actual, allowed, told) => {
    expect(figures(actual, allowed)).toEqual(told);
  });
});

describe("ground", () => {
  // The school lies along the field's east side, 600 m from its west side. Degrees are drawn for a sphere of 6371 km; on the ellipsoid
  // of WGS 84, 6391 km and 6374 km across and along the meridian at 51 N, 24 ha become 24 x 6391 x 6374 / 6371^2 = 24.09.
  test("that buffers take whole is a limit of the order", () => {
    const place = { ...fieldPlace, eastM: fieldPlace.eastM + fieldPlace.widthM, widthM: 50 };
    const { geometry } = rectangleField("school", place, {});
    const sensitive = [
      { type: "Feature" as const, geometry, properties: { id: "S1", kind: "school", name: "School" } as const },
    ];
    const within = (distanceM: number) =>
      orderSentences({ sensitive, labels: [{ buffers: [{ kind: "school", distanceM }] }] });
    expect(within(500)).toEqual([]);
    expect(within(610)).toEqual(["buffers: buffers leave nothing of the field's 24.08 ha"]);
  });

  // 20 m by 20 m are 0.04 ha.
  test("of less than 0.05 ha is too little without a buffer too", () => {
    const operation = smallOperation({
      fields: {
        type: "FeatureCollection",
        features: [
          rectangleField("F1", { ...fieldPlace, widthM: 20, heightM: 20 }, {}),
          rectangleField("F2", fieldPlace, { crop: "maize" }),
        ],
      },
    });
    const agronomy = createAgronomy(operation, calendarOf(operation));
    expect(operation.orders.map((order) => agronomy.orderLimits(order).map(({ sentence }) => sentence))).toEqual([
      ["the field's 0.04 ha are too little to plan work for"],
      [],
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
      "releaseHeight: Small multirotor releases from 3 m, label of Product 2 allows 2.5 m",
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

  // Small multirotor: 9 m swath, at least 2 m/s = 7.2 km/h, 12 L/min and 60 kg/min at most. L/min = L/ha x km/h x m / 600 (IRRI
  // Rice Knowledge Bank, Calibration): 2000 x 7.2 x 9 / 600 = 216; 12 x 600 / (7.2 x 9) = 111.1 L/ha can just be flown.
  test("cannot put out any rate", () => {
    const at = (carrierLPerHa: number) => typeSentences({ order: { carrierLPerHa } });
    expect(at(2000)).toEqual([
      "rate: Small multirotor would have to put out 216 L/min at its slowest, it can put out 12 L/min",
    ]);
    expect(at(112)).toEqual([
      "rate: Small multirotor would have to put out 12.1 L/min at its slowest, it can put out 12 L/min",
    ]);
    expect(at(111)).toEqual([]);
  });

  // With a swath of 7 m: 800 x 7.2 x 7 / 600 = 67.2 kg/min; 700 kg/ha are 58.8.
  test("cannot spread any rate, of which the order's products are the sum", () => {
    const use = { rateMinPerHa: 1, rateMaxPerHa: 1000 };
    const labels = [
      { method: "granular", use },
      { method: "granular", use },
    ] as const;
    const at = (ratePerHa: number) =>
      typeSentences({
        labels,
        order: { carrierLPerHa: undefined, products: ["P1", "P2"].map((productId) => ({ productId, ratePerHa })) },
      });
    expect(at(400)).toEqual([
      "rate: Small multirotor would have to put out 67.2 kg/min at its slowest, it can put out 60 kg/min",
    ]);
    expect(at(350)).toEqual([]);
  });

  test("a field steeper than it may work is not for it", () => {
    expect(typeSentences({ field: { slopePct: 25 } })).toEqual([]);
    expect(typeSentences({ field: { slopePct: 30 } })).toEqual(["slope: slope 30 %, Small multirotor allows 25 %"]);
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
  expect(sentencesAt("2027-06-07T05:29")).toEqual(["dates: order begins on Mon 7 June 05:30"]);
  expect(sentencesAt("2027-06-07T20:00")).toEqual(["dates: order ended on Mon 7 June 20:00"]);
  expect(sentencesAt("2027-06-07T11:00")).toEqual(["closed: field closed until Mon 7 June 12:15: irrigation"]);
});
