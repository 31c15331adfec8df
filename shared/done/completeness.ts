import { z } from "zod";
import { recordRules } from "../model/quantities.ts";
import type { ByHand } from "./applicationRecord.ts";
import type { Recorded } from "./recorded.ts";
import { recordFields, ruleNames, rulesFor } from "./recordFields.ts";

export const missingSchema = z.object({
  field: z.string().min(1),
  rule: z.enum(recordRules),
  asked: z.string().min(1).describe("in that rule"),
  sentence: z.string().min(1).describe("for people"),
});

export const originSchema = z.object({
  field: z.string().min(1),
  from: z.enum(["label", "order", "field", "fleet", "plan", "report", "person"]),
  asked: z.partialRecord(z.enum(recordRules), z.string()).describe("what rules ask for it, and in which words"),
});

/** What the rules ask for and the record does not say. Nothing is filled in by guessing. */
export function missingIn(record: Recorded): z.infer<typeof missingSchema>[] {
  return rulesFor(record).flatMap((rule) =>
    recordFields
      .filter(({ asked, isAsked, isThere }) => {
        const isWanted = asked[rule] !== undefined && (isAsked?.(record, rule) ?? true);
        return isWanted && !isThere(record);
      })
      .map(({ field, words, asked }) => ({
        field,
        rule,
        asked: asked[rule]!,
        sentence: `The record does not tell ${words}, which ${ruleNames[rule]} asks for.`,
      })),
  );
}

/** Where every field comes from. */
export function originsOf(record: Recorded, byHand: ByHand): z.infer<typeof originSchema>[] {
  return recordFields.map(({ field, from, asked }) => ({ field, from: originOf(field, from, record, byHand), asked }));
}

type From = z.infer<typeof originSchema>["from"];

function originOf(field: string, from: From, record: Recorded, byHand: ByHand): From {
  const [whole, part] = field.split(".") as [keyof ByHand, string | undefined];
  if (whole === "products") {
    const given = byHand.products?.some(
      (product) => (part === "ratePerHa" ? product.amount : product[part as "name"]) !== undefined,
    );
    if (given) return "person";
    const isAmount = part === "amount" || part === "ratePerHa";
    return isAmount && record.products.some(({ amountFrom }) => amountFrom === "report") ? "report" : from;
  }
  return byHand[whole] === undefined ? from : "person";
}
