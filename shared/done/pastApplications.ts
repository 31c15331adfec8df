import { createCalendar } from "../model/calendar.ts";
import type { FieldProperties } from "../model/field.ts";
import type { FieldId, ProductId } from "../model/quantities.ts";
import { groupBy } from "../plan/totals.ts";
import type { Recorded } from "./recorded.ts";

export type PastApplication = FieldProperties["pastApplications"][number];

type OfApplication = Pick<Recorded, "fieldId" | "orderId" | "state" | "endedAt" | "date" | "timeZone" | "products">;

/**
 * What has been applied on each field, as an operation's fields name it. Blocks of an order, whoever did them, are one application, since an order counts once against the season's most: it ended when the last
 * of them did, at the greatest rate of any.
 */
export function pastApplicationsOf(records: readonly OfApplication[]): ReadonlyMap<FieldId, PastApplication[]> {
  const parts = records
    .filter(({ state }) => state !== "withdrawn")
    .flatMap((record) =>
      record.products.flatMap(({ productId, ratePerHa }) =>
        ratePerHa !== null && ratePerHa > 0 ? [{ record, productId, ratePerHa }] : [],
      ),
    );
  const ofField = new Map<FieldId, PastApplication[]>();
  for (const group of groupBy(
    parts,
    ({ record, productId }) => `${record.fieldId} ${record.orderId} ${productId}`,
  ).values()) {
    const { fieldId } = group[0]!.record;
    const productId: ProductId = group[0]!.productId;
    const endedAt = group
      .map(({ record }) => localEnd(record))
      .sort()
      .at(-1)!;
    const ratePerHa = Math.max(...group.map((part) => part.ratePerHa));
    ofField.set(fieldId, [...(ofField.get(fieldId) ?? []), { productId, endedAt, ratePerHa }]);
  }
  for (const list of ofField.values())
    list.sort((a, b) => (a.endedAt < b.endedAt ? -1 : a.endedAt > b.endedAt ? 1 : 0));
  return ofField;
}

/** Local date and time, minutes rounded up: what protects people does not begin too early. */
function localEnd({ endedAt, date, timeZone }: OfApplication): string {
  const calendar = createCalendar({ timeZone, firstDay: date, days: 1 });
  if (endedAt === null) return `${date}T23:59`;
  const wholeMinute = new Date(Math.ceil(Date.parse(endedAt) / 60_000) * 60_000).toISOString();
  return calendar.isoOfMin(calendar.minOfInstant(wholeMinute)).slice(0, "2027-06-07T05:30".length);
}
