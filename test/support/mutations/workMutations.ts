import type { WorkDetail } from "../../../shared/plan/plan.ts";
import { type Draft, type DraftStop, type Mutation, mutation, onStop, pick, pickInt, stopsOf } from "./mutation.ts";

/** A figure of the work's detail made larger or smaller. */
function onDetail(name: string, change: (detail: WorkDetail, stop: DraftStop, draft: Draft) => boolean): Mutation {
  return onStop("workDetail", name, (draft, stop) => change(stop.work.detail, stop, draft));
}

function airMin({ sprayMin, turnMin, ferryMin }: WorkDetail): number {
  return sprayMin + turnMin + ferryMin;
}

/** The work ends early; what it says of itself stays true where it can. */
function workFaster({ crewDay, work, block }: DraftStop, minutes: number): void {
  const { endMin } = work;
  work.endMin = work.startMin + minutes;
  work.detail.rateHaPerHour = (block.areaHa * 60) / minutes;
  const index = crewDay.activities.indexOf(work);
  crewDay.activities.splice(index + 1, 0, { kind: "wait", startMin: work.endMin, endMin });
}

export const workMutations: readonly Mutation[] = [
  mutation("heading", "flown 30 degrees off what is prescribed", (draft) => {
    const stop = pick(
      draft,
      stopsOf(draft).filter(({ order, field }) => (order.headingDeg ?? field.headingDeg) !== undefined),
    );
    if (stop === undefined) return false;
    const { detail } = stop.work;
    detail.headingDeg = (detail.headingDeg + 30) % 180;
    return true;
  }),
  onStop("heading", "rows that run another way", (draft, { order, field, work }) => {
    delete order.headingDeg;
    field.headingDeg = (work.detail.headingDeg + pickInt(draft, 1, 179)) % 360;
    return true;
  }),
  onStop("heading", "along the field's rows, not the order's heading", (draft, { order, field, work }) => {
    field.headingDeg = work.detail.headingDeg;
    order.headingDeg = (work.detail.headingDeg + pickInt(draft, 1, 179) + 180) % 360;
    return true;
  }),
  onStop("workMinutes", "less time than its flights and loads", (draft, stop) => {
    const { detail } = stop.work;
    const leastMin = (airMin(detail) + detail.groundMin) / stop.crewDay.outfit.aircraftIds.length;
    const minutes = Math.floor(leastMin * (0.3 + 0.65 * draft.random()));
    if (minutes < 1) return false;
    workFaster(stop, minutes);
    return true;
  }),
  onStop("workMinutes", "a tenth of the time, all minutes of the detail in proportion", (_, stop) => {
    const { detail, startMin, endMin } = stop.work;
    const minutes = Math.floor((endMin - startMin) / 10);
    if (minutes < 1 || minutes * stop.types.length > 0.9 * detail.sprayMin) return false;
    detail.sprayMin /= 10;
    detail.turnMin /= 10;
    detail.ferryMin /= 10;
    detail.groundMin /= 10;
    workFaster(stop, minutes);
    return true;
  }),
  onStop("workMinutes", "a pump that takes longer", (draft, stop) => {
    if (stop.order.carrierLPerHa === undefined) return false;
    const tender = draft.operation.fleet.tenders.find((one) => one.id === stop.crewDay.outfit.tenderId)!;
    const lPerMin = (stop.work.detail.amount / (stop.work.endMin - stop.work.startMin)) * 0.95;
    tender.pumpLPerMin = lPerMin / tender.loadingPoints;
    return true;
  }),
  onStop("workMinutes", "one loading point for the work of several", (draft, stop) => {
    if (stop.order.carrierLPerHa === undefined) return false;
    const tender = draft.operation.fleet.tenders.find((one) => one.id === stop.crewDay.outfit.tenderId)!;
    const points = tender.loadingPoints;
    tender.pumpLPerMin = ((stop.work.detail.amount / (stop.work.endMin - stop.work.startMin)) * 1.05) / points;
    tender.loadingPoints = 1;
    return points > 1;
  }),
  onDetail("amount", (detail, _, draft) => {
    detail.amount *= 1.02 + draft.random();
    return true;
  }),
  onDetail("work rate", (detail, _, draft) => {
    detail.rateHaPerHour *= 1.2 + draft.random();
    return true;
  }),
  onDetail("too few loads", (detail, stop) => {
    const { loadSize, amount } = detail;
    const loads = Math.ceil((amount * 0.9) / loadSize) - 1;
    if (loads < 1 || loads * loadSize > amount * 0.98) return false;
    detail.loads = loads;
    return stop.work.detail.loads > 0;
  }),
  onDetail("loads larger than the tank", (detail, stop) => {
    const { liquid, granular } = stop.types[0]!;
    detail.loadSize = 1.1 * (stop.order.carrierLPerHa === undefined ? granular!.hopperKg : liquid!.tankL);
    return new Set(stop.types).size === 1;
  }),
  onDetail("loads heavier than an aircraft carries", (detail, stop) => {
    const { order, products, types } = stop;
    if (order.carrierLPerHa === undefined) return false;
    // As dense as the schema lets it be, it takes the place of water.
    const [product] = products;
    const { ratePerHa } = order.products[0]!;
    product!.rateUnit = "L";
    product!.densityKgPerL = 5;
    for (const other of products.slice(1)) other.densityKgPerL = 1;
    const sprayKgPerL = 1 + (4 * ratePerHa) / order.carrierLPerHa;
    for (const type of types) type.payloadKg = detail.loadSize * (1 + (sprayKgPerL - 1) / 2);
    return sprayKgPerL > 1.03;
  }),
  onDetail("shorter passes", (detail) => {
    detail.passKm *= 0.5;
    return true;
  }),
  onDetail("fewer passes", (detail) => {
    if (detail.passes < 8) return false;
    detail.passes = Math.floor(detail.passes / 3);
    return true;
  }),
  onDetail("fewer passes and laps", (detail, stop, draft) => {
    const swathsM = stop.types.map((type) => (type.liquid ?? type.granular)!.swathM);
    draft.operation.settings.fieldwork.headlandM = Math.min(...swathsM) * draft.random();
    if (detail.passes < 16) return false;
    detail.passes = Math.floor(detail.passes / 4);
    return true;
  }),
  onDetail("passes of level ground on a slope", (detail, { block, field, types, order }) => {
    const gears = types.map((type) => (order.carrierLPerHa === undefined ? type.granular! : type.liquid!));
    const levelM = (block.areaHa * 10_000) / Math.max(...gears.map((gear) => gear.swathM));
    field.slopePct = 100;
    // At 45 degrees 0.98 / cos(45 degrees) = 1.39 times the metres of level ground are asked for.
    return detail.passKm * 1000 < 1.3 * levelM;
  }),
  onDetail("faster than it can spray", (detail, stop) => {
    const speedsMps = stop.types.map((type) =>
      stop.order.carrierLPerHa === undefined ? type.granular! : type.liquid!,
    );
    detail.speedMps = Math.max(...speedsMps.map((gear) => gear.speedMaxMps)) * 1.1;
    return true;
  }),
  onDetail("slower than it can fly", (detail, stop) => {
    const gears = stop.types.map((type) => (stop.order.carrierLPerHa === undefined ? type.granular! : type.liquid!));
    detail.speedMps = Math.min(...gears.map((gear) => gear.speedMinMps)) * 0.9;
    return true;
  }),
  onDetail("sprayed in less time than the passes take", (detail, _, draft) => {
    detail.sprayMin = ((detail.passKm * 1000) / detail.speedMps / 60) * (0.5 + 0.4 * draft.random());
    return true;
  }),
  onDetail("no turns", (detail, stop) => {
    if (detail.passes - detail.loads - detail.batteryChanges < 1) return false;
    detail.turnMin = 0;
    return stop.types.every((type) => type.turnS > 0);
  }),
  onDetail("a pad farther away than the ferries reach", (detail, stop) => {
    const pad = stop.field.pads.find((one) => one.id === stop.work.padId)!;
    // About 5 km, more than the ferries can take.
    pad.latDeg += 0.06;
    const reachedM =
      (detail.ferryMin * 60 * Math.max(...stop.types.map((type) => type.ferrySpeedMps))) / detail.loads / 2;
    return reachedM < 3000;
  }),
  onDetail("no time on the ground", (detail, stop) => {
    detail.groundMin = 0;
    return stop.types.every((type) => type.loadS > 0);
  }),
  onDetail("no battery changes", (detail, stop) => {
    const isBattery = stop.types.every((type) => type.power.source === "battery");
    if (!isBattery || detail.batteryChanges < stop.types.length) return false;
    const usableMin = Math.max(...stop.types.map((type) => type.power.enduranceMin * (1 - type.power.reserveFrac)));
    if (airMin(detail) / usableMin < stop.types.length + 1.1) return false;
    detail.batteryChanges = 0;
    return true;
  }),
  onStop("batteryEnergy", "sets that last less", (_, stop) => {
    if (stop.types.some((type) => type.power.source === "fuel")) return false;
    for (const { power } of stop.types) {
      power.enduranceMin = airMin(stop.work.detail) / 1000 / (1 - power.reserveFrac);
    }
    return true;
  }),
  onStop("batteryEnergy", "far more flying than sets and bays give", (_, stop) => {
    if (stop.types.some((type) => type.power.source === "fuel")) return false;
    stop.work.detail.sprayMin += 10_000;
    return true;
  }),
];
