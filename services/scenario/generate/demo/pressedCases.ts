import { type DemoCase, plain, wholeWeek } from "./demoCase.ts";

/** Large, cheap and late: the work that is left when hours run out. */
const leftOver: DemoCase["orders"][number] = {
  products: [{ productId: "glyphosate", ratePerHa: 2 }],
  carrierLPerHa: 30,
  earliest: "2027-06-18T00:00",
  latest: "2027-06-21T00:00",
  priority: "low",
  priceCentsPerHa: 1900,
};

/** Orders that a limit presses but leaves plannable, and the work that loses. */
export const pressedCases: readonly DemoCase[] = [
  {
    shows: "limit",
    shape: plain(11),
    field: {
      name: "Bee Meadow",
      grower: "Heredad Folgarés",
      crop: "alfalfa",
      harvestDate: "2027-07-01",
      bloom: { from: "2027-06-10", to: "2027-06-26" },
    },
    orders: [
      {
        products: [{ productId: "chlorantraniliprole", ratePerHa: 0.12 }],
        carrierLPerHa: 20,
        ...wholeWeek,
        priority: "mandatory",
        priceCentsPerHa: 3000,
        notes: "hives 60 m away: before the bees fly or after",
      },
    ],
  },
  {
    shows: "limit",
    shape: { areaHa: 13, holes: 0, parts: 2, pads: 2 },
    field: {
      name: "Last Petals",
      grower: "Heredad Folgarés",
      crop: "alfalfa",
      harvestDate: "2027-06-30",
      bloom: { from: "2027-06-02", to: "2027-06-16" },
    },
    orders: [
      {
        products: [{ productId: "lambda-cyhalothrin", ratePerHa: 0.15 }],
        carrierLPerHa: 20,
        ...wholeWeek,
        priceCentsPerHa: 2900,
        notes: "only once the bloom is over",
      },
    ],
  },
  {
    shows: "limit",
    shape: plain(24),
    field: { name: "Gardener's Neighbour", grower: "Finca Belmirón", crop: "rice" },
    orders: [
      {
        products: [{ productId: "mcpa", ratePerHa: 1.2 }],
        carrierLPerHa: 30,
        ...wholeWeek,
        dropletClass: "VC",
        priceCentsPerHa: 3200,
        notes: "kitchen gardens to the north-west: not the near side with a wind from the south-east",
      },
    ],
  },
  {
    shows: "limit",
    shape: plain(21),
    field: {
      name: "Harvester's Eve",
      grower: "Torre Mirallós",
      crop: "barley",
      slopePct: 3,
      harvestDate: "2027-06-23",
    },
    orders: [
      {
        products: [{ productId: "glyphosate", ratePerHa: 2.2 }],
        carrierLPerHa: 30,
        ...wholeWeek,
        dropletClass: "XC",
        priority: "high",
        priceCentsPerHa: 3100,
        notes: "seven days before the combine comes",
      },
    ],
  },
  {
    shows: "limit",
    shape: plain(9),
    field: {
      name: "Pickers' Orchard",
      grower: "Finca Valdespí",
      crop: "citrus",
      slopePct: 5,
      harvestDate: "2027-06-28",
      entries: [{ from: "2027-06-18T08:00", to: "2027-06-18T13:00", who: "pruners" }],
    },
    orders: [
      {
        products: [{ productId: "malathion", ratePerHa: 3 }],
        carrierLPerHa: 40,
        ...wholeWeek,
        priceCentsPerHa: 5200,
        notes: "pruners come on Friday: 72 h must have passed",
      },
    ],
  },
  ...[44, 52, 38, 47].map(
    (areaHa, index): DemoCase => ({
      shows: "notEnoughHours",
      shape: { areaHa, holes: index % 2, parts: index === 2 ? 2 : 1, pads: 1 },
      field: {
        name: ["Idle Hundred", "Thistle Ground", "Far Common", "Wind Farm Fallow"][index]!,
        grower: "Estate Castroñeda",
        crop: "fallow",
        slopePct: 4,
      },
      orders: [leftOver],
    }),
  ),
];
