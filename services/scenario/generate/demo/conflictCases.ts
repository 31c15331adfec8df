import { type DemoCase, plain, wholeWeek } from "./demoCase.ts";

/** Orders that cannot be planned, each for a reason of its own. */
export const conflictCases: readonly DemoCase[] = [
  {
    shows: "noCapableAircraft",
    shape: plain(6),
    field: { name: "Stone Staircase", grower: "Masía Quintarol", crop: "grape", slopePct: 45 },
    orders: [
      {
        products: [{ productId: "sulfur", ratePerHa: 4 }],
        carrierLPerHa: 40,
        ...wholeWeek,
        priceCentsPerHa: 5600,
        notes: "terraces; the grower sprays by hand if nothing flies",
      },
    ],
  },
  {
    shows: "noQualifiedCrew",
    shape: plain(5),
    field: { name: "Orchard of Doña Alda", grower: "Finca Valdespí", crop: "citrus", slopePct: 3 },
    orders: [
      {
        products: [{ productId: "methomyl", ratePerHa: 1.5 }],
        carrierLPerHa: 40,
        alternatives: [{ products: [{ productId: "malathion", ratePerHa: 3 }], carrierLPerHa: 40 }],
        ...wholeWeek,
        priceCentsPerHa: 5200,
        notes: "nobody holds the high-hazard class yet",
      },
    ],
  },
  {
    shows: "labelForbids",
    shape: plain(14),
    field: { name: "Parched Acre", grower: "Torre Mirallós", crop: "barley", slopePct: 4, harvestDate: "2027-06-28" },
    orders: [
      {
        products: [{ productId: "glyphosate", ratePerHa: 4.5 }],
        carrierLPerHa: 35,
        alternatives: [{ products: [{ productId: "glyphosate", ratePerHa: 3 }], carrierLPerHa: 35 }],
        ...wholeWeek,
        priceCentsPerHa: 2800,
        notes: "rate as the grower wrote it",
      },
    ],
  },
  {
    shows: "bufferLeavesNothing",
    shape: plain(1.4),
    field: { name: "School Paddock", grower: "Casa Hortavella", crop: "alfalfa", harvestDate: "2027-07-02" },
    orders: [
      {
        products: [{ productId: "malathion", ratePerHa: 1.6 }],
        carrierLPerHa: 30,
        alternatives: [{ products: [{ productId: "chlorantraniliprole", ratePerHa: 0.12 }], carrierLPerHa: 20 }],
        ...wholeWeek,
        priceCentsPerHa: 3000,
      },
    ],
  },
  {
    shows: "seasonMaximum",
    shape: plain(8),
    field: {
      name: "Upper Apple Yard",
      grower: "Heredad Guixerola",
      crop: "apple",
      slopePct: 6,
      harvestDate: "2027-09-20",
      pastApplications: [
        { productId: "mancozeb", endedAt: "2027-04-12T09:10", ratePerHa: 4 },
        { productId: "mancozeb", endedAt: "2027-04-26T08:40", ratePerHa: 4 },
        { productId: "mancozeb", endedAt: "2027-05-10T07:55", ratePerHa: 4 },
        { productId: "mancozeb", endedAt: "2027-05-24T09:30", ratePerHa: 4 },
      ],
    },
    orders: [
      {
        products: [{ productId: "mancozeb", ratePerHa: 4 }],
        carrierLPerHa: 50,
        ...wholeWeek,
        priority: "high",
        priceCentsPerHa: 4800,
      },
    ],
  },
  {
    shows: "retreatment",
    shape: plain(18),
    field: {
      name: "Moth Trap Field",
      grower: "Finca Esquirel",
      crop: "maize",
      slopePct: 1,
      pastApplications: [{ productId: "chlorantraniliprole", endedAt: "2027-06-12T10:20", ratePerHa: 0.12 }],
    },
    orders: [
      {
        products: [{ productId: "chlorantraniliprole", ratePerHa: 0.12 }],
        carrierLPerHa: 20,
        alternatives: [{ products: [{ productId: "bacillus", ratePerHa: 1.5 }], carrierLPerHa: 25 }],
        ...wholeWeek,
        priceCentsPerHa: 2900,
        notes: "second pass wanted after the moth count",
      },
    ],
  },
  {
    // Closed until the pre-harvest interval has begun: only the harvest date could give way.
    shows: "harvestTooSoon",
    shape: plain(16),
    field: {
      name: "Combine's First",
      grower: "Cooperativa de regantes Lanzuela-Ordavés",
      crop: "barley",
      slopePct: 2,
      harvestDate: "2027-06-22",
      closures: [{ from: "2027-06-14T00:00", to: "2027-06-16T00:00", reason: "surveyors at the canal" }],
    },
    orders: [
      {
        products: [{ productId: "glyphosate", ratePerHa: 2.5 }],
        carrierLPerHa: 35,
        ...wholeWeek,
        priceCentsPerHa: 3000,
      },
    ],
  },
  {
    shows: "entryTooSoon",
    shape: plain(12),
    field: {
      name: "Weevil Flat",
      grower: "Finca Esquirel",
      crop: "alfalfa",
      slopePct: 1,
      harvestDate: "2027-07-05",
      entries: [
        { from: "2027-06-16T08:00", to: "2027-06-16T11:00", who: "crop scout" },
        { from: "2027-06-19T07:00", to: "2027-06-19T11:00", who: "hoeing gang" },
      ],
    },
    orders: [
      {
        products: [{ productId: "malathion", ratePerHa: 1.8 }],
        carrierLPerHa: 35,
        earliest: "2027-06-14T00:00",
        latest: "2027-06-19T00:00",
        priceCentsPerHa: 3100,
      },
    ],
  },
  {
    shows: "fieldClosed",
    shape: plain(15),
    field: {
      name: "Lower Paddy",
      grower: "Cooperativa de regantes Lanzuela-Ordavés",
      crop: "rice",
      closures: [{ from: "2027-06-15T00:00", to: "2027-06-17T20:00", reason: "dike being mended" }],
    },
    orders: [
      {
        products: [{ productId: "urea", ratePerHa: 110 }],
        earliest: "2027-06-15T06:00",
        latest: "2027-06-17T18:00",
        priceCentsPerHa: 3200,
      },
    ],
  },
  {
    // The last lawful day is the 16th, the order begins on the 18th.
    shows: "contradiction",
    shape: plain(20),
    field: {
      name: "Miller's Wheat",
      grower: "Torre Mirallós",
      crop: "wheat",
      slopePct: 5,
      harvestDate: "2027-06-23",
    },
    orders: [
      {
        products: [{ productId: "glyphosate", ratePerHa: 2 }],
        carrierLPerHa: 30,
        earliest: "2027-06-18T00:00",
        latest: "2027-06-21T00:00",
        priceCentsPerHa: 2700,
      },
    ],
  },
  {
    shows: "noWindow",
    shape: plain(7),
    field: { name: "Front Garden", grower: "Casa Hortavella", crop: "tomato", harvestDate: "2027-08-02" },
    orders: [
      {
        products: [{ productId: "bacillus", ratePerHa: 1.5 }],
        carrierLPerHa: 30,
        earliest: "2027-06-16T14:00",
        latest: "2027-06-17T09:00",
        priceCentsPerHa: 3400,
        notes: "eggs hatch on the 16th; no use later",
      },
    ],
  },
  {
    // Half an hour between two turns of water is less than any outfit needs for so much ground in one piece.
    shows: "windowTooShort",
    shape: plain(34),
    field: {
      name: "The Long Strip",
      grower: "Cooperativa de regantes Lanzuela-Ordavés",
      crop: "maize",
      slopePct: 2,
      closures: [
        { from: "2027-06-18T00:00", to: "2027-06-18T10:00", reason: "irrigation, first turn", people: false },
        { from: "2027-06-18T10:30", to: "2027-06-19T00:00", reason: "irrigation, second turn", people: false },
      ],
    },
    orders: [
      {
        products: [{ productId: "urea", ratePerHa: 180 }],
        earliest: "2027-06-18T00:00",
        latest: "2027-06-19T00:00",
        priceCentsPerHa: 3500,
        maySplit: false,
      },
    ],
  },
  {
    // 44 ha at 140 L/ha are more than the largest tender carries, and the grower wants it in one go.
    shows: "equipmentShort",
    shape: plain(44),
    field: { name: "Cannery Ground", grower: "Estate Castroñeda", crop: "tomato", harvestDate: "2027-08-20" },
    orders: [
      {
        products: [{ productId: "copper", ratePerHa: 2 }],
        carrierLPerHa: 140,
        alternatives: [{ products: [{ productId: "azoxystrobin", ratePerHa: 0.8 }], carrierLPerHa: 60 }],
        ...wholeWeek,
        priceCentsPerHa: 4100,
        maySplit: false,
        notes: "one batch for the cannery's record",
      },
    ],
  },
  {
    shows: "retreatment",
    shape: { areaHa: 22, holes: 1, parts: 1, pads: 2 },
    field: { name: "Twin Dressing", grower: "Finca Belmirón", crop: "rice" },
    orders: [
      {
        products: [{ productId: "urea", ratePerHa: 120 }],
        earliest: "2027-06-14T00:00",
        latest: "2027-06-18T00:00",
        preferredDate: "2027-06-15",
        priority: "high",
        priceCentsPerHa: 3300,
      },
      {
        products: [{ productId: "urea", ratePerHa: 90 }],
        earliest: "2027-06-17T00:00",
        latest: "2027-06-21T00:00",
        priceCentsPerHa: 3000,
        notes: "seven days must lie between the two dressings",
      },
    ],
  },
];
