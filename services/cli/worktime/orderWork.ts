import { type Agronomy, createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import type { OrderPart } from "../../../shared/agronomy/orderParts.ts";
import type { TreatedArea } from "../../../shared/agronomy/treatedArea.ts";
import type { Job } from "../../../shared/fieldwork/brochure.ts";
import { gearOf } from "../../../shared/fieldwork/flow.ts";
import type { Ground } from "../../../shared/fieldwork/ground.ts";
import { type WorkRefusal, workTimeOn } from "../../../shared/fieldwork/workTime.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import { compileEquipment, compileOptions, compileQualified } from "../../solver/compileCrews.ts";
import { compileOrders } from "../../solver/compileOrders.ts";
import { bestSignaturesOf, createSignatures, groundOf, outfitInput } from "../../solver/compileWork.ts";
import type { Equipment, ProblemOrder, Signature, Signatures } from "../../solver/problem.ts";
import { type CrewOutfits, nobodyWords } from "./nobody.ts";

export interface PartJob extends Job {
  readonly part: OrderPart["part"];
  /** For aircraft, on the tender. */
  readonly tenderPlaces: number;
}

/** Water of an order on its way to the field. */
export interface Water {
  readonly mixL: number;
  readonly tenderL: number;
  /** How often the tender, full at the start, must be filled before the order is done. */
  readonly fills: number;
}

/** What comes of sending an outfit to an order: all of its parts, one after the other. */
export type Answer = { readonly outfit: Signature } & (
  | {
      readonly ok: true;
      readonly minutes: number;
      readonly jobs: readonly PartJob[];
      /** None with granules. */
      readonly water: Water | undefined;
    }
  | { readonly ok: false; readonly limits: readonly Judgement[] }
  | { readonly ok: false; readonly water: Water }
  | { readonly ok: false; readonly refusal: WorkRefusal }
);
export type Done = Extract<Answer, { readonly ok: true }>;

/** An order, and how long any outfit works on it. */
export interface OrderWork {
  readonly order: Order;
  readonly compiled: ProblemOrder;
  readonly treated: TreatedArea;
  readonly padIds: readonly string[];
  /** What forbids it whoever flies it. */
  readonly limits: readonly Judgement[];
  /** Why no base could send any outfit, in words; undefined where one could. */
  readonly nobody: string | undefined;
  /** Battery sets that are full when the work begins; undefined: all. */
  readonly fullSets: number | undefined;
  answer(outfit: Signature): Answer;
  /** What the base of any crew with the ratings and licences could send, quickest first; none of ground that is none. */
  everyAnswer(): Answer[];
}

export interface Works {
  readonly operation: Operation;
  readonly equipment: Equipment;
  readonly signatures: Signatures;
  readonly fullSets: OrderWork["fullSets"];
  of(order: Order): OrderWork;
}

export function createWorks(operation: Operation, fullSets?: number): Works {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const { orders, licenceSets } = compileOrders(operation, calendar, (order) => agronomy.treatedArea(order).plane);
  const equipment = compileEquipment(operation, calendar);
  const signatures = createSignatures(operation);
  const crews = operation.fleet.crews.map((crew): CrewOutfits => {
    const options = compileOptions(operation, crew);
    const base = operation.settings.bases.findIndex(({ id }) => id === crew.baseId);
    const qualified = compileQualified(operation, crew, options, licenceSets);
    return {
      options,
      isQualified: (option, licence) => qualified[option * licenceSets.length + licence] === 1,
      outfits: options.map((option) => bestSignaturesOf(operation, equipment, signatures, base, option)),
    };
  });
  const outfitsFor = ({ licence }: ProblemOrder): Signature[] => {
    const found = crews.flatMap(({ isQualified, outfits }) =>
      outfits.flatMap((list, option) => (isQualified(option, licence) ? list : [])),
    );
    return [...new Set(found)].map((signature) => signatures.at(signature));
  };
  const nobodyFor = (order: ProblemOrder): string | undefined => {
    const capable = operation.fleet.aircraftTypes.map((type) => agronomy.typeLimits(order.order, type).length === 0);
    return nobodyWords(operation, crews, order, capable, licenceSets[order.licence]!);
  };
  return {
    operation,
    equipment,
    signatures,
    fullSets,
    of: (order) => {
      const compiled = orders[operation.orders.indexOf(order)]!;
      const outfits = () => outfitsFor(compiled);
      return createOrderWork(operation, agronomy, compiled, { outfits, nobody: nobodyFor(compiled), fullSets });
    },
  };
}

/** What there is to send. */
interface Sent extends Pick<OrderWork, "nobody" | "fullSets"> {
  readonly outfits: () => readonly Signature[];
}

function createOrderWork(
  operation: Operation,
  agronomy: Agronomy,
  compiled: ProblemOrder,
  { outfits, nobody, fullSets }: Sent,
): OrderWork {
  const { order } = compiled;
  const parts = agronomy.parts(order);
  const treated = agronomy.treatedArea(order);
  const { slopePct } = operation.fields.features[compiled.field]!.properties;
  /** By type, then part. */
  const grounds = new Map<number, readonly Ground[]>();

  const answer = (outfit: Signature): Answer => {
    const { type, option } = outfit;
    const limits = agronomy.typeLimits(order, type);
    if (limits.length > 0) return { outfit, ok: false, limits };
    const water = compiled.liquid ? waterOf(treated.areaHa * compiled.ratePerHa, outfit.tender.waterL) : undefined;
    // What may not be split is one block, and a tender brings the water of a block along.
    if (!order.maySplit && water !== undefined && water.fills > 0) return { outfit, ok: false, water };
    const full = fullOf(outfit, fullSets);
    const input = { ...outfitInput(outfit, compiled), ...(full === undefined ? {} : { fullSets: full }) };
    const gear = gearOf(type, input.method, input.densityKgPerL)!;
    const onGrounds =
      grounds.get(option.type) ?? parts.map(({ area }) => groundOf(operation, { area, order: compiled }, type, gear));
    grounds.set(option.type, onGrounds);
    const tenderPlaces = outfit.tender.transportSlots;
    const jobs: PartJob[] = [];
    for (const [index, ground] of onGrounds.entries()) {
      const work = workTimeOn(ground, input);
      if (!work.ok) return { outfit, ok: false, refusal: work };
      jobs.push({ part: parts[index]!.part, ground, slopePct, outfit: input, work, tenderPlaces });
    }
    return { outfit, ok: true, minutes: jobs.reduce((sum, { work }) => sum + work.minutes, 0), jobs, water };
  };
  return {
    order,
    compiled,
    treated,
    padIds: operation.fields.features[compiled.field]!.properties.pads.map(({ id }) => id),
    limits: agronomy.orderLimits(order),
    nobody,
    fullSets,
    answer,
    everyAnswer: () => {
      if (treated.areaHa === 0) return [];
      return outfits()
        .map(answer)
        .sort((a, b) => rankOf(a) - rankOf(b));
    },
  };
}

/** By minutes; of outfits that cannot do it first those that lack nothing but water. */
function rankOf(answer: Answer): number {
  if (answer.ok) return answer.minutes;
  return Number.MAX_VALUE / ("water" in answer ? 2 : 1);
}

/** Our choice: litres over by a millionth of a tender do not send it to the water. */
const waterSlack = 1e-6;

function waterOf(mixL: number, tenderL: number): Water {
  return { mixL, tenderL, fills: Math.max(0, Math.ceil(mixL / tenderL - waterSlack) - 1) };
}

/** Sets that are full when the work begins; undefined for all of them and for fuel. */
export function fullOf({ type, sets }: Signature, fullSets: number | undefined): number | undefined {
  return type.power.source === "fuel" || fullSets === undefined ? undefined : Math.min(fullSets, sets);
}
