import { type Operation, operationSchema } from "../../shared/model/operation.ts";
import { viewOperation } from "./viewPlan.ts";

/** Letters of several alphabets, signs that formats take for their own, and as long as people write at worst: 80 characters without a space to break at. */
export const accented = 'Łódź-Ñandú & Søn <Ζεύς> "Åß" Ђорђе';
export const longName = `Łódź-Ñandú-${"Ŵěïrdñæm-".repeat(8)}`.slice(0, 80);

/** The week of views with such names everywhere. */
export function longNamedOperation(): Operation {
  const operation = viewOperation();
  const { settings, fields, fleet, products, orders, sensitive } = operation;
  return operationSchema.parse({
    ...operation,
    settings: {
      ...settings,
      name: `${accented} valley`,
      bases: settings.bases.map((base) => ({ ...base, name: longName })),
    },
    fields: {
      ...fields,
      features: fields.features.map((field, at) => ({
        ...field,
        properties: { ...field.properties, name: at === 0 ? longName : accented, grower: `${accented} ${longName}` },
      })),
    },
    sensitive: {
      ...sensitive,
      features: sensitive.features.map((place) => ({
        ...place,
        properties: { ...place.properties, name: `${accented} school` },
      })),
    },
    products: products.map((product) => ({ ...product, name: `${longName} ${product.id}` })),
    orders: orders.map((order) => ({ ...order, notes: `=cmd|' /C calc'!A0, "${accented}"` })),
    fleet: {
      ...fleet,
      crews: fleet.crews.map((crew) => ({
        ...crew,
        name: `${accented} ${crew.id}`,
        people: crew.people.map((one) => ({ ...one, name: longName })),
      })),
    },
  });
}
