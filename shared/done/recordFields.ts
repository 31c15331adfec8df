import type { RecordRule } from "../model/quantities.ts";
import type { Recorded } from "./recorded.ts";

/**
 * What a record has to name, by two sets of rules, and where it comes from.
 *
 * us: 40 CFR 171.303(b)(7), records of commercial applicators, as the EPA's plan for Indian country tells them. 7 CFR 110.3 (text of 2006, read) asks for no more than these; it was rescinded on
 * 11 July 2025, and is named because states go on asking the same. They are asked of restricted use products only.
 *
 * eu: the Annex of Implementing Regulation (EU) 2023/564. The Annex itself could not be read: its entries are MEMORY, and as chambers of agriculture tell them; Article 1(2), on locations, and 1(3), on EPPO
 * codes and BBCH stages, were read.
 */
export interface RecordField {
  readonly field: string;
  /** For people. */
  readonly words: string;
  /** Where it comes from unless a person says otherwise. */
  readonly from: "label" | "order" | "field" | "fleet" | "plan" | "report";
  /** The paragraph of each rule that asks for it. */
  readonly asked: Readonly<Partial<Record<RecordRule, string>>>;
  /** Whether these rules ask for it here; left out: always. */
  readonly isAsked?: (record: Recorded, rule: RecordRule) => boolean;
  readonly isThere: (record: Recorded) => boolean;
}

export const ruleNames: Readonly<Record<RecordRule, string>> = {
  us: "40 CFR 171.303(b)(7)",
  eu: "Implementing Regulation (EU) 2023/564",
};

/** 7 CFR 110.3(b): a spot application needs neither the size of the area nor the crop. */
const isNoSpot = ({ spotApplication }: Recorded, rule: RecordRule) => rule !== "us" || spotApplication === null;
const everyProduct = (holds: (product: Recorded["products"][number]) => boolean) => (record: Recorded) =>
  record.products.length > 0 && record.products.every(holds);

export const recordFields: readonly RecordField[] = [
  {
    field: "grower",
    words: "the name of the person for whom it was applied",
    from: "field",
    asked: { us: "name and address of the person for whom it was applied" },
    isThere: ({ grower }) => grower !== "",
  },
  {
    field: "growerAddress",
    words: "the address of the person for whom it was applied",
    from: "field",
    asked: { us: "name and address of the person for whom it was applied" },
    isThere: ({ growerAddress }) => growerAddress !== null,
  },
  {
    field: "typeOfUse",
    words: "the type of use",
    from: "plan",
    asked: { eu: "Annex: type of use" },
    isThere: () => true,
  },
  {
    field: "geometry",
    words: "the location of the application",
    from: "plan",
    asked: { us: "location; 7 CFR 110.3(a)(3)(ii), by maps" },
    isThere: ({ geometry }) => geometry.coordinates.length > 0,
  },
  {
    field: "landId",
    words: "the unit of land in the authority's register",
    from: "field",
    asked: { eu: "Annex: location; Article 1(2)" },
    isThere: ({ landId }) => landId !== null,
  },
  {
    field: "treatedHa",
    words: "the size of the area treated",
    from: "report",
    asked: { us: "size of the area treated; 7 CFR 110.3(a)(3)", eu: "Annex: area treated" },
    isAsked: isNoSpot,
    isThere: ({ treatedHa }) => treatedHa > 0,
  },
  {
    field: "crop",
    words: "the crop",
    from: "field",
    asked: { us: "crop, commodity, stored product or site; 7 CFR 110.3(a)(3)", eu: "Annex: crop" },
    isAsked: isNoSpot,
    isThere: ({ crop }) => crop !== "",
  },
  {
    field: "eppoCode",
    words: "the EPPO code of the crop",
    from: "field",
    asked: { eu: "Annex: crop; Article 1(3)" },
    isThere: ({ eppoCode }) => eppoCode !== null,
  },
  {
    field: "growthStage",
    words: "the growth stage of the crop (BBCH)",
    from: "field",
    asked: { eu: "Annex: growth stage, where the use is limited to stages; Article 1(3)" },
    isAsked: ({ products }) => products.some(({ growthStageLimited }) => growthStageLimited),
    isThere: ({ growthStage }) => growthStage !== null,
  },
  {
    field: "startedAt",
    words: "the date and the time of the application",
    from: "report",
    asked: {
      us: "year, month, day and time; 7 CFR 110.3(a)(4), the day",
      eu: "Annex: date, and the time where it matters",
    },
    isThere: ({ startedAt }) => startedAt !== null,
  },
  {
    field: "products.name",
    words: "the name of every product",
    from: "label",
    asked: { us: "brand or product name; 7 CFR 110.3(a)(1)", eu: "Annex: name of the product" },
    isThere: everyProduct(({ name }) => name !== ""),
  },
  {
    field: "products.registrationNumber",
    words: "the registration number of every product",
    from: "label",
    asked: { us: "EPA registration number; 7 CFR 110.3(a)(1)", eu: "Annex: authorisation number" },
    isThere: everyProduct(({ registrationNumber }) => registrationNumber !== null),
  },
  {
    field: "products.amount",
    words: "the amount applied of every product",
    from: "order",
    asked: { us: "total amount applied; 7 CFR 110.3(a)(2)" },
    isThere: everyProduct(({ amount }) => amount > 0),
  },
  {
    field: "products.ratePerHa",
    words: "the dose of every product",
    from: "order",
    asked: { eu: "Annex: dose" },
    isThere: everyProduct(({ ratePerHa }) => ratePerHa !== null && ratePerHa > 0),
  },
  {
    field: "applicators",
    words: "the certified applicator",
    from: "fleet",
    asked: { us: "name and certification number of the certified applicator; 7 CFR 110.3(a)(5)" },
    isThere: ({ applicators }) => applicators.length > 0,
  },
  {
    field: "applicators.certificationNumber",
    words: "the applicator's certification number",
    from: "fleet",
    asked: { us: "name and certification number of the certified applicator; 7 CFR 110.3(a)(5)" },
    isAsked: ({ applicators }) => applicators.length > 0,
    isThere: ({ applicators }) => applicators.every(({ certificationNumber }) => certificationNumber !== null),
  },
];

/** The rules of the United States speak of restricted use products only. */
export function rulesFor({ recordRules, products }: Recorded): RecordRule[] {
  return recordRules.filter((rule) => rule !== "us" || products.some(({ restrictedUse }) => restrictedUse));
}
