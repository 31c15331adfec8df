import { z } from "zod";
import {
  type ApplicationFacts,
  applicationFactsSchema,
  type ByHand,
  type RecordedProduct,
} from "./applicationRecord.ts";

import { recordedAmount, recordedRate } from "./rounded.ts";

/** What stands in the record: the facts, and over them what a person has put right. */
export const recordedSchema = applicationFactsSchema.extend({
  typeOfUse: z.literal("land, from the air"),
  helpers: z.array(z.string()).describe("who made it under an applicator's supervision"),
  spotApplication: z.string().nullable(),
  notes: z.string(),
});
export type Recorded = z.infer<typeof recordedSchema>;

export function recordedOf(facts: ApplicationFacts, byHand: ByHand): Recorded {
  const { products, applicators, helpers, spotApplication, notes, ...plain } = byHand;
  const treatedHa = plain.treatedHa ?? facts.treatedHa;
  return {
    ...facts,
    ...present(plain),
    products: facts.products.map((product) => productByHand(product, treatedHa, products ?? [])),
    applicators:
      applicators?.map(({ name, certificationNumber }) => ({
        name,
        certificationNumber: certificationNumber ?? null,
      })) ?? facts.applicators,
    typeOfUse: "land, from the air",
    helpers: helpers ?? [],
    spotApplication: spotApplication ?? null,
    notes: notes ?? "",
  };
}

/** Where the amount is reckoned from the order, other hectares make it another amount. */
function productByHand(
  product: RecordedProduct,
  treatedHa: number,
  products: NonNullable<ByHand["products"]>,
): RecordedProduct {
  const { productId: _, ...given } = products.find(({ productId }) => productId === product.productId) ?? {
    productId: product.productId,
  };
  const reckoned = product.amountFrom === "order" ? (product.ratePerHa ?? 0) * treatedHa : product.amount;
  const amount = recordedAmount(given.amount ?? reckoned);
  return {
    ...product,
    ...present(given),
    amount,
    amountFrom: given.amount === undefined ? product.amountFrom : "person",
    ratePerHa: treatedHa > 0 ? recordedRate(amount / treatedHa) : null,
  };
}

/** Only what is given. */
function present<T extends object>(given: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as never;
}
