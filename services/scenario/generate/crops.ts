/** Days from the first day of the plan: [soonest, latest]. */
type DayRange = readonly [number, number];

export interface Treatment {
  /** Product ids, one or a mix. */
  readonly productIds: readonly string[];
  /** Absent for granules. */
  readonly carrierLPerHa?: readonly [number, number];
  readonly priceCentsPerHa: readonly [number, number];
  readonly weight: number;
}

export interface CropProfile {
  readonly crop: string;
  /** Share of the fields. */
  readonly weight: number;
  readonly meanAreaFactor: number;
  readonly slopePct: readonly [number, number];
  readonly harvestInDays?: DayRange;
  readonly bloom?: { readonly probability: number; readonly fromInDays: DayRange; readonly lengthDays: DayRange };
  readonly treatments: readonly Treatment[];
}

/** What is grown in the invented valley in early summer, and what is flown on it. Our choice throughout. */
export const cropProfiles: readonly CropProfile[] = [
  {
    crop: "wheat",
    weight: 16,
    meanAreaFactor: 1.3,
    slopePct: [0, 10],
    harvestInDays: [9, 45],
    treatments: [
      { productIds: ["glyphosate"], carrierLPerHa: [30, 40], priceCentsPerHa: [2400, 3200], weight: 3 },
      { productIds: ["azoxystrobin"], carrierLPerHa: [15, 25], priceCentsPerHa: [2200, 3000], weight: 2 },
      { productIds: ["sulfur"], carrierLPerHa: [25, 35], priceCentsPerHa: [2300, 3000], weight: 1 },
      {
        productIds: ["azoxystrobin", "lambda-cyhalothrin"],
        carrierLPerHa: [20, 25],
        priceCentsPerHa: [2600, 3400],
        weight: 1,
      },
    ],
  },
  {
    crop: "barley",
    weight: 8,
    meanAreaFactor: 1.2,
    slopePct: [0, 12],
    harvestInDays: [5, 20],
    treatments: [
      { productIds: ["glyphosate"], carrierLPerHa: [30, 40], priceCentsPerHa: [2400, 3200], weight: 4 },
      { productIds: ["tebuconazole"], carrierLPerHa: [15, 20], priceCentsPerHa: [2200, 2800], weight: 1 },
    ],
  },
  {
    crop: "maize",
    weight: 20,
    meanAreaFactor: 1.2,
    slopePct: [0, 6],
    harvestInDays: [80, 110],
    treatments: [
      { productIds: ["urea"], priceCentsPerHa: [2600, 3600], weight: 4 },
      { productIds: ["slug-pellets"], priceCentsPerHa: [1900, 2600], weight: 2 },
      { productIds: ["lambda-cyhalothrin"], carrierLPerHa: [20, 25], priceCentsPerHa: [2200, 3000], weight: 2 },
      { productIds: ["chlorantraniliprole"], carrierLPerHa: [15, 25], priceCentsPerHa: [2400, 3200], weight: 2 },
      {
        productIds: ["azoxystrobin", "chlorantraniliprole"],
        carrierLPerHa: [20, 30],
        priceCentsPerHa: [2900, 3700],
        weight: 1,
      },
    ],
  },
  {
    crop: "rice",
    weight: 16,
    meanAreaFactor: 1.1,
    slopePct: [0, 1],
    harvestInDays: [95, 120],
    treatments: [
      { productIds: ["urea"], priceCentsPerHa: [2600, 3600], weight: 4 },
      { productIds: ["mcpa"], carrierLPerHa: [30, 40], priceCentsPerHa: [2500, 3300], weight: 2 },
      { productIds: ["azoxystrobin"], carrierLPerHa: [15, 25], priceCentsPerHa: [2400, 3100], weight: 3 },
      { productIds: ["chlorantraniliprole"], carrierLPerHa: [15, 25], priceCentsPerHa: [2300, 3000], weight: 2 },
      { productIds: ["rice-seed"], priceCentsPerHa: [3200, 4200], weight: 1 },
    ],
  },
  {
    crop: "alfalfa",
    weight: 9,
    meanAreaFactor: 0.9,
    slopePct: [0, 4],
    harvestInDays: [9, 28],
    bloom: { probability: 0.6, fromInDays: [-8, 4], lengthDays: [6, 14] },
    treatments: [
      { productIds: ["chlorantraniliprole"], carrierLPerHa: [15, 25], priceCentsPerHa: [2300, 3000], weight: 3 },
      { productIds: ["lambda-cyhalothrin"], carrierLPerHa: [20, 25], priceCentsPerHa: [2200, 2900], weight: 2 },
      { productIds: ["malathion"], carrierLPerHa: [30, 40], priceCentsPerHa: [2300, 3000], weight: 1 },
    ],
  },
  {
    crop: "sunflower",
    weight: 5,
    meanAreaFactor: 1.1,
    slopePct: [0, 14],
    harvestInDays: [75, 100],
    bloom: { probability: 0.5, fromInDays: [-4, 8], lengthDays: [10, 18] },
    treatments: [
      { productIds: ["slug-pellets"], priceCentsPerHa: [1900, 2600], weight: 2 },
      { productIds: ["tebuconazole"], carrierLPerHa: [15, 25], priceCentsPerHa: [2200, 2900], weight: 2 },
    ],
  },
  {
    crop: "tomato",
    weight: 7,
    meanAreaFactor: 0.7,
    slopePct: [0, 3],
    harvestInDays: [25, 60],
    treatments: [
      { productIds: ["copper"], carrierLPerHa: [30, 50], priceCentsPerHa: [2900, 3800], weight: 2 },
      { productIds: ["azoxystrobin", "copper"], carrierLPerHa: [30, 50], priceCentsPerHa: [3300, 4200], weight: 1 },
      { productIds: ["bacillus"], carrierLPerHa: [20, 40], priceCentsPerHa: [2800, 3600], weight: 2 },
      { productIds: ["slug-pellets"], priceCentsPerHa: [2000, 2800], weight: 1 },
    ],
  },
  {
    crop: "grape",
    weight: 8,
    meanAreaFactor: 0.5,
    slopePct: [4, 34],
    harvestInDays: [75, 105],
    treatments: [
      { productIds: ["sulfur"], carrierLPerHa: [30, 50], priceCentsPerHa: [3600, 5200], weight: 3 },
      { productIds: ["copper", "tebuconazole"], carrierLPerHa: [40, 60], priceCentsPerHa: [4200, 5800], weight: 2 },
      { productIds: ["bacillus"], carrierLPerHa: [30, 50], priceCentsPerHa: [3600, 4800], weight: 1 },
    ],
  },
  {
    crop: "almond",
    weight: 4,
    meanAreaFactor: 0.6,
    slopePct: [3, 26],
    harvestInDays: [55, 80],
    treatments: [
      { productIds: ["bacillus"], carrierLPerHa: [30, 50], priceCentsPerHa: [3400, 4600], weight: 2 },
      { productIds: ["chlorantraniliprole"], carrierLPerHa: [30, 50], priceCentsPerHa: [3400, 4600], weight: 2 },
      { productIds: ["abamectin"], carrierLPerHa: [40, 60], priceCentsPerHa: [3800, 5200], weight: 1 },
    ],
  },
  {
    crop: "citrus",
    weight: 4,
    meanAreaFactor: 0.5,
    slopePct: [0, 12],
    harvestInDays: [4, 24],
    treatments: [
      { productIds: ["abamectin"], carrierLPerHa: [40, 60], priceCentsPerHa: [4000, 5600], weight: 2 },
      { productIds: ["chlorantraniliprole"], carrierLPerHa: [30, 50], priceCentsPerHa: [3600, 4800], weight: 2 },
      { productIds: ["carbaryl"], carrierLPerHa: [40, 60], priceCentsPerHa: [3800, 5200], weight: 1 },
      { productIds: ["malathion"], carrierLPerHa: [30, 50], priceCentsPerHa: [3600, 4800], weight: 1 },
      { productIds: ["sulfur"], carrierLPerHa: [30, 50], priceCentsPerHa: [3600, 4800], weight: 1 },
    ],
  },
  {
    crop: "fallow",
    weight: 3,
    meanAreaFactor: 1.4,
    slopePct: [0, 8],
    treatments: [
      { productIds: ["glyphosate"], carrierLPerHa: [30, 40], priceCentsPerHa: [2200, 2800], weight: 3 },
      { productIds: ["mcpa"], carrierLPerHa: [30, 40], priceCentsPerHa: [2200, 2800], weight: 1 },
    ],
  },
];
