import { addDays } from "../../../shared/model/calendar.ts";
import type { CropProfile } from "./crops.ts";
import type { FieldDraft, FieldPropertiesDraft, ProductDraft } from "./draft.ts";
import type { FieldPlan } from "./fieldPlans.ts";
import { fieldGeometry } from "./geojson.ts";
import type { Land } from "./land.ts";
import { fieldNames, growerName } from "./names.ts";
import type { Random } from "./random.ts";

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
        ? { from: `${on}T05:00`, to: `${on}T13:00`, reason: "irrigation", people: false }
        : { from: `${on}T07:00`, to: `${on}T16:30`, reason: "workers in the next row", people: true },
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
