import type { AircraftType, Crew } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import { type Product, rateUnitOf } from "../model/product.ts";
import { recordRules } from "../model/quantities.ts";
import type { Plan } from "../plan/plan.ts";
import { indexPlan, type PlanIndex } from "../plan/planIndex.ts";
import { siteLimits } from "../plan/siteLimits.ts";
import { aircraftAtWork, type Stop } from "../plan/totals.ts";
import { amountUnit } from "../plan/words.ts";
import type { ApplicationFacts, RecordedProduct } from "./applicationRecord.ts";
import { isAhead, isOfOtherDay } from "./clock.ts";
import { judgeMeasured } from "./measured.ts";
import { recordedAmount, recordedRate } from "./rounded.ts";
import { type Treated, treatedOf } from "./treated.ts";
import type { KeptReport } from "./workReport.ts";

export interface FactsInput {
  readonly operation: Operation;
  readonly plan: Pick<Plan, "blocks" | "crewDays">;
  readonly planId: string;
  readonly blockId: string;
  readonly crewId: string;
  readonly date: string;
  /** All standing reports on the block's ground, whoever made them, in order of time. */
  readonly about: readonly KeptReport[];
}

/** What is known of an application; null where nothing was treated. */
export function applicationFactsOf(input: FactsInput): ApplicationFacts | null {
  const treated = treatedOf(input.about, input);
  if (!treated || treated.areaHa === 0) return null;
  const { operation, plan, crewId, date, blockId } = input;
  const index = indexPlan(operation, plan);
  const stop = index.stops.find(
    ({ block, crewDay }) => block.id === blockId && crewDay.crewId === crewId && crewDay.date === date,
  );
  if (!stop) throw new Error(`the plan has no stop at ${blockId} for crew ${crewId} on ${date}`);
  const order = index.order(stop.block.orderId);
  const field = index.field(order.fieldId).properties;
  const products = index.productsOf(order);
  const crew = index.crew(crewId);
  const own = input.about.filter((one) => one.crewId === crewId && one.date === date);
  const types = index.typesOf(stop);
  const site = siteLimits({ order, products, types, limits: operation.settings.limits });
  const qualified = qualifiedOf(crew, types, products);

  return {
    planId: input.planId,
    timeZone: operation.settings.timeZone,
    recordRules: [...(operation.settings.recordRules ?? recordRules)],
    state: treated.state,
    orderId: order.id,
    blockId: stop.block.id,
    crewId: crew.id,
    crewName: crew.name,
    date: stop.crewDay.date,
    fieldId: field.id,
    fieldName: field.name,
    grower: field.grower,
    growerAddress: field.growerAddress ?? null,
    landId: field.landId ?? null,
    crop: field.crop,
    eppoCode: field.eppoCode ?? null,
    growthStage: field.growthStage ?? null,
    method: products[0]!.method,
    geometry: stop.block.geometry,
    blockHa: stop.block.areaHa,
    treatedHa: treated.areaHa,
    again: treated.again,
    startedAt: treated.startedAt,
    endedAt: treated.endedAt,
    clockDoubtful: own.some((one) => isAhead(one) || isOfOtherDay(one, index.calendar)),
    products: productsOf(index, stop, treated, own),
    carrierLPerHa: order.carrierLPerHa ?? null,
    aircraft: aircraftAtWork(stop).map((id) => ({ id, type: index.type(index.aircraft(id).typeId).name })),
    // With one qualified person nobody else can have flown it; of several the crew has to tell who did.
    applicators: qualified.length === 1 ? qualified.map(({ personId: _, ...applicator }) => applicator) : [],
    qualified,
    measured: own.flatMap(({ report }) =>
      report.kind === "conditions" ? [judgeMeasured(report.air, report.at, site, operation.settings.altitudeM)] : [],
    ),
  };
}

function qualifiedOf(crew: Crew, types: readonly AircraftType[], products: readonly Product[]) {
  return crew.people
    .filter(
      ({ ratings, licenceClasses }) =>
        types.some(({ id }) => ratings.includes(id)) &&
        products.every(({ licenceClass }) => licenceClasses.includes(licenceClass)),
    )
    .map(({ id, name, certificationNumber }) => ({
      personId: id,
      name,
      certificationNumber: certificationNumber ?? null,
    }));
}

/** Those of the order, and what else the crew has told that it used; the last report of a product counts. */
function productsOf(index: PlanIndex, stop: Stop, treated: Treated, own: readonly KeptReport[]): RecordedProduct[] {
  const order = index.order(stop.block.orderId);
  const { crop } = index.field(order.fieldId).properties;
  const used = new Map(
    own.flatMap(({ report }) =>
      report.kind === "stopped" || report.kind === "finished"
        ? (report.used ?? []).map(({ productId, amount }) => [productId, amount] as const)
        : [],
    ),
  );
  const ordered = new Map(order.products.map(({ productId, ratePerHa }) => [productId, ratePerHa]));
  return [...new Set([...ordered.keys(), ...used.keys()])].map((productId) => {
    const product = index.operation.products.find(({ id }) => id === productId);
    const told = used.get(productId);
    const amount = recordedAmount(told ?? (ordered.get(productId) ?? 0) * treated.areaHa);
    const use = product?.uses.find((one) => one.crop === crop);
    return {
      productId,
      // A product that the operation does not have: its name and number are for a person to add.
      name: product?.name ?? productId,
      registrationNumber: product?.registrationNumber ?? null,
      amount,
      unit: product ? rateUnitOf(product) : amountUnit[index.productsOf(order)[0]!.method],
      ratePerHa: recordedRate(amount / treated.areaHa),
      amountFrom: told === undefined ? "order" : "report",
      ordered: ordered.has(productId),
      restrictedUse: product?.restrictedUse ?? true,
      growthStageLimited: product?.growthStageLimited ?? false,
      labelRates: use ? { leastPerHa: use.rateMinPerHa, mostPerHa: use.rateMaxPerHa } : null,
    };
  });
}
