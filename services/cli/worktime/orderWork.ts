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

export interface PartJob extends Job {
  readonly part: OrderPart["part"];
}

/** What comes of sending an outfit to an order: all of its parts, one after the other. */
export type Answer = { readonly outfit: Signature } & (
  | { readonly ok: true; readonly minutes: number; readonly jobs: readonly PartJob[] }
  | { readonly ok: false; readonly limits: readonly Judgement[] }
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
  answer(outfit: Signature): Answer;
  /** What the base of any crew with the ratings and licences could send, quickest first. */
  everyAnswer(): Answer[];
}

export interface Works {
  readonly operation: Operation;
  readonly equipment: Equipment;
  readonly signatures: Signatures;
  of(order: Order): OrderWork;
}

export function createWorks(operation: Operation): Works {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const { orders, licenceSets } = compileOrders(operation, calendar, (order) => agronomy.treatedArea(order).plane);
  const equipment = compileEquipment(operation, calendar);
  const signatures = createSignatures(operation);
  const crews = operation.fleet.crews.map((crew) => {
    const options = compileOptions(operation, crew);
    const base = operation.settings.bases.findIndex(({ id }) => id === crew.baseId);
    return {
      qualified: compileQualified(operation, crew, options, licenceSets),
      outfits: options.map((option) => bestSignaturesOf(operation, equipment, signatures, base, option)),
    };
  });
  const outfitsFor = ({ licence }: ProblemOrder): Signature[] => {
    const found = crews.flatMap(({ qualified, outfits }) =>
      outfits.flatMap((list, option) => (qualified[option * licenceSets.length + licence] === 1 ? list : [])),
    );
    return [...new Set(found)].map((signature) => signatures.at(signature));
  };
  return {
    operation,
    equipment,
    signatures,
    of: (order) => {
      const compiled = orders[operation.orders.indexOf(order)]!;
      return createOrderWork(operation, agronomy, compiled, () => outfitsFor(compiled));
    },
  };
}

function createOrderWork(
  operation: Operation,
  agronomy: Agronomy,
  compiled: ProblemOrder,
  outfits: () => readonly Signature[],
): OrderWork {
  const { order } = compiled;
  const parts = agronomy.parts(order);
  const { slopePct } = operation.fields.features[compiled.field]!.properties;
  /** By type, then part. */
  const grounds = new Map<number, readonly Ground[]>();

  const answer = (outfit: Signature): Answer => {
    const { type, option } = outfit;
    const limits = agronomy.typeLimits(order, type);
    if (limits.length > 0) return { outfit, ok: false, limits };
    const input = outfitInput(outfit, compiled);
    const gear = gearOf(type, input.method, input.densityKgPerL)!;
    const onGrounds =
      grounds.get(option.type) ?? parts.map(({ area }) => groundOf(operation, { area, order: compiled }, type, gear));
    grounds.set(option.type, onGrounds);
    const jobs: PartJob[] = [];
    for (const [index, ground] of onGrounds.entries()) {
      const work = workTimeOn(ground, input);
      if (!work.ok) return { outfit, ok: false, refusal: work };
      jobs.push({ part: parts[index]!.part, ground, slopePct, outfit: input, work });
    }
    return { outfit, ok: true, minutes: jobs.reduce((sum, { work }) => sum + work.minutes, 0), jobs };
  };
  return {
    order,
    compiled,
    treated: agronomy.treatedArea(order),
    padIds: operation.fields.features[compiled.field]!.properties.pads.map(({ id }) => id),
    limits: agronomy.orderLimits(order),
    answer,
    everyAnswer: () => {
      const minutesOf = (one: Answer) => (one.ok ? one.minutes : Number.POSITIVE_INFINITY);
      return outfits()
        .map(answer)
        .sort((a, b) => (minutesOf(a) === minutesOf(b) ? 0 : minutesOf(a) - minutesOf(b)));
    },
  };
}
