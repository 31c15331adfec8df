import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import type { ObstacleName } from "../../../shared/plan/plan.ts";

/** An operation that may be written to. */
export type Draft = { -readonly [Key in keyof Operation]: Operation[Key] };

/** What is to be taken out of an order's way. */
export interface Relaxed {
  readonly limit: ObstacleName;
  readonly aircraftTypeId?: string | undefined;
  readonly sensitiveId?: string | undefined;
}

/** More than anything in an operation comes near. */
const huge = 1e6;

/**
 * Take one thing out of an order's way in the inputs themselves, as somebody would who knows only what an operation says; written without a look at what explains
 * conflicts. `kept` are limits that must stay as they are.
 */
export function relax(draft: Draft, order: Order, what: Relaxed, kept: ReadonlySet<ObstacleName>): void {
  changes[what.limit]!({ draft, order, kept, ...what });
}

/** A gap in the forecast, or a field that is too small, nobody can take away in the inputs. */
export function hasWord({ limit }: Relaxed): boolean {
  return changes[limit] !== undefined;
}

/** Limits that go when another goes: while one of these is to stay, the other must, too. */
export const goesWith: Partial<Record<ObstacleName, readonly ObstacleName[]>> = {
  rain: ["rainfast", "wet"],
  sets: ["chargers"],
  chargers: ["sets"],
  drift: ["driftNear"],
  driftNear: ["drift"],
  rainfast: ["noForecast"],
  wet: ["noForecast"],
};

interface Asked extends Relaxed {
  readonly draft: Draft;
  readonly order: Order;
  readonly kept: ReadonlySet<ObstacleName>;
}

const typesOf = ({ draft, aircraftTypeId }: Asked) =>
  draft.fleet.aircraftTypes.filter(({ id }) => aircraftTypeId === undefined || id === aircraftTypeId);
const productsOf = ({ draft, order }: Asked) =>
  draft.products.filter(({ id }) => order.products.some(({ productId }) => productId === id));
const fieldOf = ({ draft, order }: Asked) =>
  draft.fields.features.find(({ properties }) => properties.id === order.fieldId)!.properties;
const usesOf = (asked: Asked) =>
  productsOf(asked).flatMap(({ uses }) => uses.filter(({ crop }) => crop === fieldOf(asked).crop));

const changes: Partial<Record<ObstacleName, (asked: Asked) => void>> = {
  label: (asked) => {
    const { crop } = fieldOf(asked);
    for (const product of productsOf(asked)) {
      if (!product.uses.some((use) => use.crop === crop)) {
        product.uses.push({ crop, rateMinPerHa: 0.001, rateMaxPerHa: huge, phiDays: 0, retreatmentDays: 0 });
      }
      product.carrierMinLPerHa = 0;
      if (asked.kept.has("droplet")) continue;
      delete product.dropletFinest;
      delete product.dropletCoarsest;
    }
    for (const use of usesOf(asked)) Object.assign(use, { rateMinPerHa: 0.001, rateMaxPerHa: huge });
  },
  seasonMax: (asked) => {
    for (const use of usesOf(asked)) {
      delete use.seasonMaxCount;
      delete use.seasonMaxPerHa;
    }
  },
  buffers: (asked) => {
    for (const product of productsOf(asked)) {
      if (asked.sensitiveId === undefined) product.buffers = product.buffers.filter((buffer) => buffer.downwindOnly);
    }
    if (asked.sensitiveId === undefined) return;
    const { sensitive } = asked.draft;
    sensitive.features = sensitive.features.filter(({ properties }) => properties.id !== asked.sensitiveId);
  },
  method: (asked) => {
    const speeds = { swathM: 6, speedMinMps: 2, speedMaxMps: 12 };
    for (const type of typesOf(asked)) {
      const { payloadKg } = type;
      type.liquid ??= { ...speeds, tankL: payloadKg, flowMaxLPerMin: 2000, dropletMinUm: 1, dropletMaxUm: 2000 };
      type.granular ??= { ...speeds, hopperKg: payloadKg, hopperL: 5000, spreadMaxKgPerMin: 5000 };
    }
  },
  releaseHeight: (asked) => {
    const heights = productsOf(asked).map(({ releaseHeightMaxM = huge }) => releaseHeightMaxM);
    // Of one type alone only the type can give way.
    if (asked.kept.has("releaseHeight"))
      for (const type of typesOf(asked)) type.releaseHeightM = Math.min(type.releaseHeightM, ...heights);
    else for (const product of productsOf(asked)) delete product.releaseHeightMaxM;
  },
  droplet: (asked) => {
    for (const { liquid } of typesOf(asked)) {
      if (liquid !== undefined) Object.assign(liquid, { dropletMinUm: 1, dropletMaxUm: 2000 });
    }
  },
  slope: (asked) => {
    for (const type of typesOf(asked)) type.slopeMaxPct = 100;
  },
  rate: (asked) => {
    const { order } = asked;
    const kgPerHa = order.products.reduce((sum, { ratePerHa }) => sum + ratePerHa, 0);
    // L/min = L/ha x km/h x m / 600 at the slowest; a pump that does will do.
    const isShort = (ratePerHa: number, gear: { speedMinMps: number; swathM: number }, mostPerMin: number) =>
      (ratePerHa * gear.speedMinMps * 3.6 * gear.swathM) / 600 > mostPerMin;
    for (const { liquid, granular } of typesOf(asked)) {
      if (liquid !== undefined && isShort(order.carrierLPerHa ?? 0, liquid, liquid.flowMaxLPerMin))
        liquid.flowMaxLPerMin = 2000;
      if (granular !== undefined && isShort(kgPerHa, granular, granular.spreadMaxKgPerMin))
        granular.spreadMaxKgPerMin = 5000;
    }
  },
  range: (asked) => {
    for (const { power } of typesOf(asked)) {
      power.enduranceMin = power.source === "battery" ? 240 : 600;
      power.reserveFrac = 0;
    }
  },
  aircraft: (asked) => {
    const { fleet, settings } = asked.draft;
    for (const { id: typeId, power } of typesOf(asked)) {
      for (const { id } of settings.bases) {
        const baseId = id as (typeof fleet.crews)[number]["baseId"];
        fleet.aircraft.push({ id: `new-${typeId}-${id}` as never, typeId, baseId, outOfService: [] });
        if (power.source === "battery") addPower(asked, baseId);
      }
      for (const person of fleet.crews.flatMap(({ people }) => people)) person.ratings.push(typeId);
    }
    changes.tender!(asked);
    changes.sets!(asked);
  },
  licence: (asked) => {
    const classes = productsOf(asked).map(({ licenceClass }) => licenceClass);
    for (const { people } of asked.draft.fleet.crews) {
      for (const person of people) person.licenceClasses = [...new Set([...person.licenceClasses, ...classes])];
    }
  },
  rating: (asked) => {
    for (const { id } of typesOf(asked)) {
      for (const { people } of asked.draft.fleet.crews) {
        for (const person of people) if (!person.ratings.includes(id)) person.ratings.push(id);
      }
    }
  },
  phi: (asked) => {
    delete fieldOf(asked).harvestDate;
  },
  rei: (asked) => {
    for (const product of productsOf(asked)) product.reiHours = 0;
  },
  entry: (asked) => {
    for (const entry of fieldOf(asked).entries) entry.to = entry.from;
  },
  closed: (asked) => {
    for (const closure of fieldOf(asked).closures) closure.to = closure.from;
  },
  retreatment: (asked) => {
    for (const use of usesOf(asked)) use.retreatmentDays = 0;
  },
  dates: ({ draft, order }) => {
    const { firstDay } = draft.settings;
    order.earliest = `${firstDay}T00:00`;
    order.latest = `${addDays(firstDay, draft.settings.days)}T00:00`;
  },
  daylight: ({ draft }) => {
    for (const type of draft.fleet.aircraftTypes) type.nightCapable = true;
    for (const crew of draft.fleet.crews) crew.nightWork = true;
  },
  rain: ({ draft }) => {
    Object.assign(draft.settings.limits, { rainMm: huge, rainProbabilityPct: huge });
  },
  rainfast: (asked) => {
    for (const product of productsOf(asked)) product.rainfastHours = 0;
  },
  wet: ({ order }) => {
    delete order.waitAfterRainHours;
    delete order.waitAfterRainMm;
  },
  wind: (asked) => {
    for (const product of productsOf(asked)) product.windMaxKph = huge;
    for (const type of asked.draft.fleet.aircraftTypes) type.windMaxKph = huge;
    delete asked.draft.settings.limits.windMaxKph;
  },
  windLow: (asked) => {
    for (const product of productsOf(asked)) product.windMinKph = 0;
  },
  gust: (asked) => {
    for (const product of productsOf(asked)) delete product.gustMaxKph;
    for (const type of asked.draft.fleet.aircraftTypes) type.gustMaxKph = huge;
    delete asked.draft.settings.limits.gustMaxKph;
  },
  deltaT: (asked) => {
    for (const product of productsOf(asked)) {
      delete product.deltaTMinC;
      delete product.deltaTMaxC;
    }
  },
  temperature: (asked) => {
    for (const product of productsOf(asked)) {
      delete product.temperatureMinC;
      delete product.temperatureMaxC;
    }
  },
  humidity: (asked) => {
    for (const product of productsOf(asked)) {
      delete product.humidityMinPct;
      delete product.humidityMaxPct;
    }
  },
  inversion: (asked) => {
    for (const product of productsOf(asked)) product.inversionRule = "ignore";
  },
  bloom: (asked) => {
    for (const product of productsOf(asked)) product.bloomRule = "allowed";
  },
  drift: noDownwindBuffers,
  driftNear: noDownwindBuffers,
  tender: (asked) => {
    for (const type of typesOf(asked)) type.transportSlots = 0;
  },
  water: ({ draft }) => {
    for (const tender of draft.fleet.tenders) tender.waterL = 40_000;
  },
  sets: (asked) => {
    const { fleet, settings } = asked.draft;
    for (const { id: aircraftTypeId, power } of typesOf(asked)) {
      if (power.source !== "battery") continue;
      for (const { id } of settings.bases) {
        const baseId = id as (typeof fleet.batteryStocks)[number]["baseId"];
        const stock = fleet.batteryStocks.find((one) => one.baseId === baseId && one.aircraftTypeId === aircraftTypeId);
        if (stock === undefined) fleet.batteryStocks.push({ baseId, aircraftTypeId, sets: 60 });
        else stock.sets = Math.max(stock.sets, 60);
        addPower(asked, baseId);
      }
    }
  },
  chargers: (asked) => {
    for (const { power } of typesOf(asked)) if (power.source === "battery") power.chargeKw = 0.001;
    for (const { id } of asked.draft.settings.bases) addPower(asked, id);
  },
  outOfService: (asked) => {
    for (const aircraft of asked.draft.fleet.aircraft) {
      if (aircraft.typeId === asked.aircraftTypeId) aircraft.outOfService = [];
    }
  },
  shift: ({ draft }) => {
    const { firstDay, days } = draft.settings;
    for (const crew of draft.fleet.crews) {
      crew.shifts = Array.from({ length: days }, (_, day) => ({
        date: addDays(firstDay, day),
        from: "00:00",
        to: "23:59",
      })) as typeof crew.shifts;
    }
  },
  duty: ({ draft }) => {
    for (const crew of draft.fleet.crews) {
      // The night in which batteries charge stays as long as it was.
      crew.restMinHours = Math.max(crew.restMinHours, 24 - crew.dutyMaxHoursPerDay);
      crew.dutyMaxHoursPerDay = 24;
      crew.dutyMaxHoursPerWeek = 168;
    }
  },
  locked: ({ draft }) => {
    draft.locks = [];
  },
};

function noDownwindBuffers(asked: Asked): void {
  for (const product of productsOf(asked)) product.buffers = product.buffers.filter((buffer) => !buffer.downwindOnly);
}

/** Chargers, generators and mains that are never short. */
function addPower({ draft }: Asked, baseId: string): void {
  const { fleet, settings } = draft;
  fleet.chargers.push({
    id: `new-${baseId}-${fleet.chargers.length}` as never,
    baseId: baseId as never,
    bays: 50,
    kw: huge,
  });
  for (const tender of fleet.tenders) tender.generatorKw = 500;
  for (const base of settings.bases) base.mainsKw = huge;
}

function addDays(date: string, days: number): string {
  return new Date(Date.parse(date) + days * 86_400_000).toISOString().slice(0, 10);
}

/** Everything that has a word in the inputs, whichever the type. */
export const relaxable = Object.keys(changes) as ObstacleName[];
