import type { Order } from "../../../shared/model/order.ts";
import type { DropletClass } from "../../../shared/model/quantities.ts";
import {
  type DraftStop,
  localTime,
  type Mutation,
  mutation,
  onStop,
  pick,
  pickInt,
  simultaneousStops,
  stopsOf,
  useOf,
} from "./mutation.ts";

const isLiquid = ({ products }: DraftStop) => products[0]!.method === "liquid";

export const orderMutations: readonly Mutation[] = [
  onStop("method", "an aircraft lacks the gear", (draft, stop) => {
    const type = pick(draft, stop.types)!;
    if (isLiquid(stop)) delete type.liquid;
    else delete type.granular;
    return true;
  }),
  onStop("releaseHeight", "released higher than a label allows", (draft, stop) => {
    pick(draft, stop.products)!.releaseHeightMaxM = pick(draft, stop.types)!.releaseHeightM * 0.99;
    return true;
  }),
  onStop("droplet", "an aircraft makes coarser droplets than ordered", (draft, stop) => {
    if (!isLiquid(stop)) return false;
    stop.order.dropletClass = "F";
    Object.assign(pick(draft, stop.types)!.liquid!, {
      dropletMinUm: draft.operation.settings.limits.dropletTable.lowerUm.M,
      dropletMaxUm: 900,
    });
    return true;
  }),
  onStop("droplet", "an aircraft makes finer droplets than ordered", (draft, stop) => {
    if (!isLiquid(stop)) return false;
    stop.order.dropletClass = "C";
    Object.assign(pick(draft, stop.types)!.liquid!, {
      dropletMinUm: 60,
      dropletMaxUm: draft.operation.settings.limits.dropletTable.lowerUm.C - 1,
    });
    return true;
  }),
  onStop("slope", "the field is steeper than an aircraft flies", (draft, stop) => {
    stop.field.slopePct = pick(draft, stop.types)!.slopeMaxPct + pickInt(draft, 1, 10);
    return true;
  }),
  onStop("rate", "not enough flow at the least speed", (draft, stop) => {
    const { liquid, granular } = pick(draft, stop.types)!;
    const ratePerHa = stop.order.carrierLPerHa ?? stop.order.products.reduce((sum, part) => sum + part.ratePerHa, 0);
    const gear = isLiquid(stop) ? liquid! : granular!;
    const neededPerMin = (ratePerHa * gear.speedMinMps * 3.6 * gear.swathM) / 600;
    if (isLiquid(stop)) liquid!.flowMaxLPerMin = neededPerMin * 0.99;
    else granular!.spreadMaxKgPerMin = neededPerMin * 0.99;
    return true;
  }),
  onStop("label", "rate over the label's", (draft, stop) => {
    const { use, ratePerHa } = useOf(draft, stop);
    use.rateMaxPerHa = ratePerHa * 0.99;
    return true;
  }),
  onStop("label", "rate under the label's", (draft, stop) => {
    const { use, ratePerHa } = useOf(draft, stop);
    use.rateMinPerHa = ratePerHa * 1.01;
    return true;
  }),
  onStop("label", "the label has no use on the crop", (draft, stop) => {
    const { product } = useOf(draft, stop);
    product.uses = product.uses.map((use) => ({ ...use, crop: "no such crop" }));
    return true;
  }),
  onStop("label", "less carrier than the label asks for", (draft, stop) => {
    if (!isLiquid(stop)) return false;
    pick(draft, stop.products)!.carrierMinLPerHa = stop.order.carrierLPerHa! + 1;
    return true;
  }),
  onStop("label", "droplet class outside the label's", (draft, stop) => {
    if (!isLiquid(stop)) return false;
    const ordered: DropletClass = "M";
    stop.order.dropletClass = ordered;
    pick(draft, stop.products)!.dropletFinest = "C";
    return true;
  }),
  onStop("label", "no droplet class that all labels allow", (draft, stop) => {
    if (!isLiquid(stop)) return false;
    const product = pick(draft, stop.products)!;
    product.dropletFinest = "XC";
    product.dropletCoarsest = "C";
    return true;
  }),
  onStop("seasonMax", "applied too often", (draft, stop) => {
    const { product, use, ratePerHa } = useOf(draft, stop);
    const times = pickInt(draft, 1, 4);
    use.seasonMaxCount = times;
    for (let i = 0; i < times; i++) {
      stop.field.pastApplications.push({
        productId: product.id,
        endedAt: localTime(draft, -100 * 24 * 60),
        ratePerHa,
      });
    }
    return true;
  }),
  onStop("seasonMax", "too much applied", (draft, stop) => {
    const { use, ratePerHa } = useOf(draft, stop);
    use.seasonMaxPerHa = ratePerHa * 0.9;
    return true;
  }),
  mutation("seasonMax", "orders of the plan together", (draft) => {
    const stops = stopsOf(draft);
    const pairs = stops.flatMap((a) =>
      stops
        .filter((b) => b.order !== a.order && b.field === a.field)
        .flatMap((b) => a.products.filter((product) => b.products.includes(product))),
    );
    const product = pick(draft, pairs);
    if (product === undefined) return false;
    for (const use of product.uses) use.seasonMaxCount = 1;
    return true;
  }),
  mutation("airspace", "two crews over one field", (draft) => {
    const pair = pick(draft, simultaneousStops(draft));
    if (pair === undefined) return false;
    pair[1].order.fieldId = pair[0].order.fieldId;
    return true;
  }),
  mutation("interleave", "the same product on the same field by turns", (draft) => {
    const pair = pick(draft, simultaneousStops(draft));
    if (pair === undefined) return false;
    pair[1].order.fieldId = pair[0].order.fieldId;
    pair[1].order.products = structuredClone(pair[0].order.products);
    return true;
  }),
  mutation("interleave", "orders to be kept apart, on the same field by turns", (draft) => {
    const pair = pick(draft, simultaneousStops(draft));
    if (pair === undefined) return false;
    pair[1].order.fieldId = pair[0].order.fieldId;
    pair[1].order.apartFrom.push({ orderId: pair[0].order.id, hours: 0.5 });
    return true;
  }),
  waitMutation("the later order waits for the earlier", (earlier, later, hours) => {
    later.apartFrom.push({ orderId: earlier.id, hours });
  }),
  waitMutation("the earlier order wants to be followed later", (earlier, later, hours) => {
    earlier.apartFrom.push({ orderId: later.id, hours });
  }),
];

/** Two orders on one field that are to lie some minutes farther apart than they do. */
function waitMutation(name: string, change: (earlier: Order, later: Order, hours: number) => void): Mutation {
  return mutation("wait", name, (draft) => {
    const stops = stopsOf(draft);
    const pairs = stops.flatMap((a) =>
      stops
        .filter((b) => b.order !== a.order && b.field === a.field && b.work.startMin >= a.work.endMin)
        .map((b) => ({ a, b })),
    );
    const pair = pick(draft, pairs);
    if (pair === undefined) return false;
    const apartMin = pair.b.work.startMin - pair.a.work.endMin;
    change(pair.a.order, pair.b.order, (apartMin + pickInt(draft, 1, 60)) / 60);
    return true;
  });
}
