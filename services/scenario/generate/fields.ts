import { addDays } from "../../../shared/model/calendar.ts";
import { type CropProfile, cropProfiles } from "./crops.ts";
import type { FieldDraft, FieldPropertiesDraft, ProductDraft } from "./draft.ts";
import type { ShapeWishes } from "./fieldShapes.ts";
import { fieldGeometry } from "./geojson.ts";
import type { Land } from "./land.ts";
import { fieldNames, growerName } from "./names.ts";
import type { Random } from "./random.ts";

/** A field before it has a place: what grows on it, how large it is and how it is cut. */
export interface FieldPlan extends Omit<ShapeWishes, "angleRad"> {
  readonly profile: CropProfile;
}

const leastHa = 1;
const greatestHa = 80;

/** Crops and areas, log-normal about the crop's mean, so that a few fields hold most of the ground. */
export function planFields(random: Random, count: number, meanHa: number): FieldPlan[] {
  const byWeight = cropProfiles.map((profile) => [profile, profile.weight] as const);
  return Array.from({ length: count }, () => {
    const profile = random.weighted(byWeight);
    const wishedHa = meanHa * profile.meanAreaFactor * Math.exp(random.normal(-0.25, 0.7));
    const areaHa = Math.max(leastHa, Math.min(greatestHa, wishedHa));
    return {
      profile,
      areaHa,
      holes: areaHa > 4 && random.chance(0.14) ? random.whole(1, 3) : 0,
      parts: areaHa > 6 && random.chance(0.06) ? 2 : 1,
      pads: areaHa > 5 && random.chance(0.22) ? 2 : 1,
    };
  });
}

export interface FieldsRequest {
  readonly firstDay: string;
  readonly days: number;
  readonly plans: readonly FieldPlan[];
  readonly land: Land;
  readonly products: readonly ProductDraft[];
}

export function makeFields(random: Random, request: FieldsRequest): FieldDraft[] {
  const growers = Array.from({ length: Math.max(2, Math.ceil(request.plans.length / 3.5)) }, () => growerName(random));
  const { laid, toPosition } = request.land;
  const names = fieldNames(random);
  return request.plans.map((plan, index) => {
    const shape = laid.shapes[index]!;
    return {
      type: "Feature",
      geometry: fieldGeometry(shape, toPosition),
      properties: {
        id: `F-${numbered(index + 1)}`,
        name: names[index % names.length]!,
        grower: random.pick(growers),
        crop: plan.profile.crop,
        slopePct: Math.round(random.between(...plan.profile.slopePct)),
        pads: shape.pads.map((pad, padIndex) => {
          const [lonDeg, latDeg] = toPosition(pad);
          return { id: `P${padIndex + 1}`, latDeg, lonDeg };
        }),
        ...season(random, plan.profile, request),
      },
    };
  });
}

export function numbered(number: number): string {
  return String(number).padStart(3, "0");
}

/** Harvest, bloom, closures, entries and what was done before: whatever the season brings to one field. */
function season(random: Random, { harvestInDays, bloom, crop }: CropProfile, request: FieldsRequest) {
  const date = (day: number) => addDays(request.firstDay, day);
  const properties: Partial<FieldPropertiesDraft> = {};
  if (harvestInDays) properties.harvestDate = date(random.whole(...harvestInDays));
  if (bloom && random.chance(bloom.probability)) {
    const from = random.whole(...bloom.fromInDays);
    properties.bloom = { from: date(from), to: date(from + random.whole(...bloom.lengthDays)) };
  }
  const day = () => date(random.whole(0, request.days - 1));
  if (random.chance(0.1)) {
    const on = day();
    properties.closures = [
      random.chance(0.6)
        ? { from: `${on}T05:00`, to: `${on}T13:00`, reason: "irrigation" }
        : { from: `${on}T07:00`, to: `${on}T16:30`, reason: "workers in the next row" },
    ];
  }
  if (random.chance(0.1)) {
    const on = day();
    properties.entries = [{ from: `${on}T08:00`, to: `${on}T12:00`, who: random.pick(["crop scout", "hoeing gang"]) }];
  }
  const known = request.products.filter(({ uses }) => uses.some((use) => use.crop === crop));
  if (known.length > 0 && random.chance(0.3)) {
    const product = random.pick(known);
    const use = product.uses.find((candidate) => candidate.crop === crop)!;
    properties.pastApplications = [
      { productId: product.id, endedAt: `${date(-random.whole(4, 40))}T09:30`, ratePerHa: use.rateMinPerHa },
    ];
  }
  return properties;
}
