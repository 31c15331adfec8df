import type { Activity } from "../../../shared/plan/plan.ts";
import {
  activitiesOf,
  crewOf,
  type Draft,
  type Found,
  type Mutation,
  mutation,
  pick,
  pickInt,
  replaceByWait,
  type SomeActivity,
  shorten,
  stopsOf,
  tenderOf,
  typesOf,
} from "./mutation.ts";

type Kind = Activity["kind"];

/** A change to an activity of one kind, picked among those that it applies to. */
function onActivity<K extends Kind>(
  rule: Mutation["rule"],
  name: string,
  kind: K,
  change: (draft: Draft, found: Found<K>) => boolean,
): Mutation {
  return mutation(rule, name, (draft) => {
    const found = pick(draft, activitiesOf(draft, kind));
    return found !== undefined && change(draft, found);
  });
}

const lasts = ({ activity }: SomeActivity) => activity.endMin - activity.startMin;

/** Whom an activity takes time: a change of method the aircraft of the next work, all else the whole outfit. */
function typesIn(draft: Draft, { crewDay, index, activity }: SomeActivity) {
  const next = crewDay.activities.slice(index).find((one) => one.kind === "work");
  return typesOf(draft, crewDay, activity.kind === "methodChange" ? next : undefined);
}

function greatest(draft: Draft, found: SomeActivity, measure: "setupMin" | "packupMin" | "methodChangeMin"): number {
  return Math.max(...typesIn(draft, found).map((type) => type[measure]));
}

/** Minutes of the greatest measure, and of the greatest of measure and calibration together. */
function withCalibration(draft: Draft, found: SomeActivity, measure: "setupMin" | "methodChangeMin") {
  return {
    withoutMin: Math.ceil(greatest(draft, found, measure)),
    neededMin: Math.max(...typesIn(draft, found).map((type) => type[measure] + type.calibrationMin)),
  };
}

/** The set-up that the first work of the day follows. */
function isFirstSetup({ crewDay: { activities }, index }: SomeActivity): boolean {
  const firstWork = activities.findIndex(({ kind }) => kind === "work");
  return index < firstWork && activities.slice(index + 1, firstWork).every(({ kind }) => kind !== "setup");
}

/** Another place of the operation. */
function otherPlace(draft: Draft, ...not: readonly string[]): string {
  const { bases, waterPoints } = draft.operation.settings;
  const pads = draft.operation.fields.features.flatMap(({ properties }) =>
    properties.pads.map((pad) => `${properties.id}/${pad.id}`),
  );
  const ids: string[] = [...bases.map((base) => base.id), ...waterPoints.map((point) => point.id), ...pads];
  return pick(
    draft,
    ids.filter((other) => !not.includes(other)),
  )!;
}

function isLast({ crewDay, index }: SomeActivity): boolean {
  return index === crewDay.activities.length - 1;
}

export const dayMutations: readonly Mutation[] = [
  mutation("contiguous", "an activity left out", (draft) => {
    const crewDay = pick(draft, draft.plan.crewDays)!;
    const inner = crewDay.activities.slice(1, -1).filter((activity) => activity.endMin > activity.startMin);
    const gone = pick(draft, inner);
    if (gone === undefined) return false;
    crewDay.activities.splice(crewDay.activities.indexOf(gone), 1);
    return true;
  }),
  mutation("contiguous", "an activity that begins before the last has ended", (draft) => {
    const crewDay = pick(draft, draft.plan.crewDays)!;
    const activity = pick(draft, crewDay.activities.slice(1));
    if (activity === undefined) return false;
    activity.startMin -= pickInt(draft, 1, 20);
    return true;
  }),
  mutation("contiguous", "an activity that ends before it begins", (draft) => {
    const activity = pick(draft, pick(draft, draft.plan.crewDays)!.activities)!;
    activity.endMin = activity.startMin - 1;
    return true;
  }),
  mutation("baseToBase", "no drive home", (draft) => {
    const crewDay = pick(draft, draft.plan.crewDays)!;
    if (crewDay.activities.length < 2 || crewDay.activities.at(-1)!.kind !== "drive") return false;
    crewDay.activities.pop();
    return true;
  }),
  onActivity("baseToBase", "the last drive goes elsewhere", "drive", (draft, found) => {
    if (!isLast(found)) return false;
    const { baseId, overnightBaseIds = [] } = crewOf(draft, found.crewDay);
    found.activity.to = otherPlace(draft, baseId, ...overnightBaseIds);
    return true;
  }),
  onActivity("baseToBase", "the first drive begins elsewhere", "drive", (draft, found) => {
    if (found.index !== 0) return false;
    found.activity.from = otherPlace(draft, found.activity.from);
    return true;
  }),
  onActivity("place", "drives to another place", "drive", (draft, found) => {
    if (isLast(found)) return false;
    found.activity.to = otherPlace(draft, found.activity.to);
    return true;
  }),
  onActivity("place", "sets up elsewhere", "setup", (draft, { activity }) => {
    activity.place = otherPlace(draft, activity.place);
    return true;
  }),
  onActivity("place", "packs up elsewhere", "packup", (draft, { activity }) => {
    activity.place = otherPlace(draft, activity.place);
    return true;
  }),
  onActivity("place", "refills elsewhere", "refill", (draft, { activity }) => {
    activity.place = otherPlace(draft, activity.place);
    return true;
  }),
  onActivity("place", "works from another pad", "work", (draft, { activity }) => {
    const stop = stopsOf(draft).find(({ work }) => work === activity)!;
    const pad = pick(
      draft,
      stop.field.pads.filter((one) => one.id !== activity.padId),
    );
    if (pad === undefined) return false;
    activity.padId = pad.id;
    return true;
  }),
  onActivity("driveTime", "there in no time", "drive", (_, found) => {
    if (found.activity.distanceKm < 0.5) return false;
    shorten(found, 0);
    return true;
  }),
  onActivity("driveTime", "a minute less than the road takes", "drive", (draft, found) => {
    const { from, to } = found.activity;
    const minutes = lasts(found);
    draft.operation.roads = draft.operation.roads.filter((road) => road.from !== from || road.to !== to);
    draft.operation.roads.push({ from, to, distanceKm: found.activity.distanceKm, durationMin: minutes + 0.5 });
    return true;
  }),
  mutation("driveTime", "slow roads", (draft) => {
    draft.operation.roads = [];
    draft.operation.settings.roads.speedKph = 0.1;
    return activitiesOf(draft, "drive").some(({ activity }) => activity.distanceKm > 1);
  }),
  onActivity("driveDistance", "fewer kilometres", "drive", (_, { activity }) => {
    if (activity.distanceKm < 0.5) return false;
    activity.distanceKm *= 0.8;
    return true;
  }),
  onActivity("driveDistance", "more kilometres", "drive", (draft, { activity }) => {
    activity.distanceKm += 0.1 + draft.random();
    return true;
  }),
  onActivity("setup", "no setting up", "setup", (draft, found) => {
    if (greatest(draft, found, "setupMin") <= 0) return false;
    replaceByWait(found);
    return true;
  }),
  onActivity("setup", "set up in less time", "setup", (draft, found) => {
    const neededMin = greatest(draft, found, "setupMin");
    if (neededMin < 1) return false;
    shorten(found, Math.ceil(neededMin) - 1);
    return true;
  }),
  onActivity("setup", "an aircraft that takes longer", "setup", (draft, found) => {
    pick(draft, typesOf(draft, found.crewDay))!.setupMin = lasts(found) + 1;
    return true;
  }),
  onActivity("setup", "set up for the first work without calibration", "setup", (draft, found) => {
    const { withoutMin, neededMin } = withCalibration(draft, found, "setupMin");
    if (!isFirstSetup(found) || withoutMin >= neededMin) return false;
    shorten(found, withoutMin);
    return true;
  }),
  onActivity("setup", "an aircraft that takes longer to calibrate", "setup", (draft, found) => {
    const type = pick(draft, typesOf(draft, found.crewDay))!;
    type.calibrationMin = Math.max(0, lasts(found) - type.setupMin) + 1;
    return isFirstSetup(found);
  }),
  onActivity("packup", "no packing up", "packup", (draft, found) => {
    if (greatest(draft, found, "packupMin") <= 0) return false;
    replaceByWait(found);
    return true;
  }),
  onActivity("packup", "packed up in less time", "packup", (draft, found) => {
    const neededMin = greatest(draft, found, "packupMin");
    if (neededMin < 1) return false;
    shorten(found, Math.ceil(neededMin) - 1);
    return true;
  }),
  onActivity("packup", "an aircraft that takes longer", "packup", (draft, found) => {
    pick(draft, typesOf(draft, found.crewDay))!.packupMin = lasts(found) + 1;
    return true;
  }),
  onActivity("cleanOut", "no clean-out", "cleanOut", (_, found) => {
    replaceByWait(found);
    return true;
  }),
  onActivity("cleanOut", "of another group", "cleanOut", (_, { activity }) => {
    activity.fromGroup = "other";
    return true;
  }),
  onActivity("cleanOut", "for another group", "cleanOut", (_, { activity }) => {
    activity.toGroup = "other";
    return true;
  }),
  onActivity("cleanOut", "products that take longer", "cleanOut", (draft, found) => {
    for (const product of draft.operation.products) {
      if (product.compatibilityGroup === found.activity.fromGroup) product.cleanOutMin = lasts(found) + 1;
    }
    return true;
  }),
  onActivity("cleanOut", "products that take more water", "cleanOut", (draft, { activity }) => {
    for (const product of draft.operation.products) {
      if (product.compatibilityGroup === activity.fromGroup) product.cleanOutL = activity.waterL + 1;
    }
    return true;
  }),
  mutation("cleanOut", "two works of other groups", (draft) => {
    const pairs = stopsOf(draft).flatMap((stop, index, all) => {
      const next = all[index + 1];
      const isPair =
        next !== undefined &&
        next.crewDay === stop.crewDay &&
        next.order !== stop.order &&
        next.products[0]!.method === stop.products[0]!.method;
      return isPair ? [{ stop, next }] : [];
    });
    const pair = pick(draft, pairs);
    if (pair === undefined) return false;
    for (const [group, { products }] of Object.entries({ first: pair.stop, second: pair.next })) {
      for (const product of products)
        Object.assign(product, { compatibilityGroup: group, cleanOutMin: 15, cleanOutL: 30 });
    }
    return pair.stop.products.every((product) => !pair.next.products.includes(product));
  }),
  onActivity("methodChange", "no change of method", "methodChange", (draft, found) => {
    if (greatest(draft, found, "methodChangeMin") <= 0) return false;
    replaceByWait(found);
    return true;
  }),
  onActivity("methodChange", "to the same method", "methodChange", (draft, found) => {
    if (greatest(draft, found, "methodChangeMin") <= 0) return false;
    found.activity.to = found.activity.to === "liquid" ? "granular" : "liquid";
    return true;
  }),
  onActivity("methodChange", "an aircraft that takes longer", "methodChange", (draft, found) => {
    pick(draft, typesIn(draft, found))!.methodChangeMin = lasts(found) + 1;
    return true;
  }),
  onActivity("methodChange", "changed without calibration", "methodChange", (draft, found) => {
    const { withoutMin, neededMin } = withCalibration(draft, found, "methodChangeMin");
    if (withoutMin >= neededMin) return false;
    shorten(found, withoutMin);
    return true;
  }),
  onActivity("methodChange", "an aircraft that takes longer to calibrate", "methodChange", (draft, found) => {
    const type = pick(draft, typesIn(draft, found))!;
    type.calibrationMin = Math.max(0, lasts(found) - type.methodChangeMin) + 1;
    return true;
  }),
  mutation("water", "more carrier than the tender holds", (draft) => {
    const stop = pick(
      draft,
      stopsOf(draft).filter(({ order }) => order.carrierLPerHa !== undefined),
    );
    if (stop === undefined) return false;
    stop.order.carrierLPerHa = (tenderOf(draft, stop.crewDay).waterL * 1.05) / stop.block.areaHa;
    return true;
  }),
  onActivity("water", "a tender filled over the brim", "refill", (draft, { crewDay, activity }) => {
    activity.waterL += tenderOf(draft, crewDay).waterL;
    return true;
  }),
  onActivity("water", "a clean-out that takes the tender's water", "cleanOut", (draft, { crewDay, activity }) => {
    activity.waterL = tenderOf(draft, crewDay).waterL * 1.01;
    return true;
  }),
  onActivity("refill", "filled in no time", "refill", (_, found) => {
    shorten(found, 0);
    return true;
  }),
  onActivity("refill", "a trickle", "refill", (draft, found) => {
    const { bases, waterPoints } = draft.operation.settings;
    const point = [...bases, ...waterPoints].find((one) => one.id === found.activity.place)!;
    point.fillLPerMin = (found.activity.waterL / lasts(found)) * 0.95;
    return true;
  }),
];
