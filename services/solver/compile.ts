import Flatbush from "flatbush";
import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import { areaM2 } from "../../shared/geo/area.ts";
import { toMultiPolygon } from "../../shared/geo/convert.ts";
import type { Calendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { BlockId } from "../../shared/model/quantities.ts";
import type { Block, PublishedStop } from "../../shared/plan/plan.ts";
import { groupBy } from "../../shared/plan/totals.ts";
import { haFromM2 } from "../../shared/units/units.ts";
import { compileBegun, compileDutyBefore, planFromMin, shiftsLeft, windowsLeft } from "./begun.ts";
import { cutOrder } from "./compileBlocks.ts";
import { compileChoices, compileEquipment, compileOptions, compileQualified, compileSlots } from "./compileCrews.ts";
import { compileOrders } from "./compileOrders.ts";
import { compileRoutes } from "./compileRoutes.ts";
import { compileTravel } from "./compileTravel.ts";
import { bestSignaturesOf, createGrounds, createSignatures } from "./compileWork.ts";
import { keptCut } from "./keptCut.ts";
import { compileLocks, type Locks, slotsLeftBy, windowsFrom } from "./locks.ts";
import type { OrderGround, Problem, ProblemBlock, ProblemOrder, Signatures } from "./problem.ts";
import { compilePublished } from "./published.ts";
import { compileRisk } from "./risk.ts";
import { windowOverlap } from "./windowOverlap.ts";
import { createWorkTable } from "./workTable.ts";

/** Nearest other blocks kept for each block. */
const neighboursKept = 60;

/**
 * From words to indices: everything that the search asks for is here, worked out once. Orders are cut into blocks afresh, as a published plan has them where that still does, or as they are in the
 * problem of another operation with the same orders and fields.
 */
export function compileProblem(
  operation: Operation,
  calendar: Calendar,
  agronomy: Agronomy,
  published: readonly PublishedStop[] | null = null,
  cutAs: Pick<Problem, "blocks" | "grounds"> | null = null,
  publishedBlocks: readonly Block[] = [],
): Problem {
  const { fleet, settings } = operation;
  const types = fleet.aircraftTypes;
  const { orders, seasonLimits, groups, licenceSets } = compileOrders(
    operation,
    calendar,
    (order) => agronomy.treatedArea(order).plane,
  );
  const travel = compileTravel(operation);
  const shifts = compileSlots(operation, calendar);
  const baseOfCrew = fleet.crews.map((crew) => settings.bases.findIndex((base) => base.id === crew.baseId));
  const options = fleet.crews.map((crew) => compileOptions(operation, crew));
  const equipment = compileEquipment(operation, calendar);
  const grounds = orders.flatMap(({ order: words }, order): OrderGround[] =>
    agronomy.parts(words).map(({ part, area, areaHa }) => ({ order, area, areaHa, isRest: part === "rest" })),
  );
  const allWindows = compileWindows(orders, grounds, operation, agronomy);
  const fromMin = planFromMin(settings, calendar);
  const windows = allWindows.map((list) => windowsLeft(list, fromMin));

  const signatures = createSignatures(operation);
  const bestOf = options.map((list, crew) =>
    list.map((option) => bestSignaturesOf(operation, equipment, signatures, baseOfCrew[crew]!, option)),
  );
  const padPlacesOf = (order: ProblemOrder) => travel.padPlaces[order.field]!;
  const groundFor = createGrounds(operation);
  const wholeGrounds = createWorkTable(
    groundFor,
    signatures,
    grounds.map(({ area, order }) => ({ area, order: orders[order]!, padPlaces: padPlacesOf(orders[order]!) })),
  );
  const working = new Set(shifts.map(({ crew }) => crew));
  const largest = options.flatMap((list, crew) =>
    (working.has(crew) ? list : []).flatMap(({ type }, at) => {
      // So many as some tender carries.
      const isLarger = list.some(
        (other, otherAt) => otherAt > at && other.type === type && bestOf[crew]![otherAt]!.length > 0,
      );
      return isLarger ? [] : bestOf[crew]![at]!.slice(0, 1);
    }),
  );
  const outfits = firstOfAlike(largest, signatures);
  const partsOf = new Map(
    operation.locks.flatMap(({ stops }) => stops.map(({ orderId, parts }) => [orderId as string, parts] as const)),
  );
  const before = groupBy<Block, string>(publishedBlocks, ({ orderId }) => orderId);
  const keptOf = (ground: number) => {
    const order = orders[grounds[ground]!.order]!;
    const blocks = before.get(order.order.id);
    return blocks === undefined ? undefined : keptCut(blocks, order.plane, grounds[ground]!);
  };
  const areasOf = (ground: number) =>
    cutAs?.blocks.flatMap(({ area, ground: of }) =>
      isSameGround(cutAs.grounds[of]!, grounds[ground]!) ? [area] : [],
    ) ??
    cutOrder(operation, orders[grounds[ground]!.order]!, grounds[ground]!.area, grounds[ground]!.areaHa, {
      index: ground,
      windowsOf: (type) => windows[(ground * types.length + type) * 2] ?? null,
      outfits,
      signatures,
      wholeGrounds,
      groundFor,
      // Of two grounds nobody knows how many blocks were on which.
      parts:
        groundsOf[grounds[ground]!.order]!.length > 1
          ? undefined
          : partsOf.get(orders[grounds[ground]!.order]!.order.id),
      kept: keptOf(ground),
    });
  const groundsOf: number[][] = orders.map(() => []);
  grounds.forEach(({ order }, ground) => {
    groundsOf[order]!.push(ground);
  });
  const blocks = orders.flatMap((order, index): ProblemBlock[] => {
    const pieces = groundsOf[index]!.flatMap((ground) => areasOf(ground).map((area) => ({ ground, area })));
    return pieces.map(({ ground, area }, part) => toBlock(order, index, ground, area, part, pieces.length));
  });

  const byField: number[][] = operation.fields.features.map(() => []);
  const byOrder: number[][] = orders.map(() => []);
  blocks.forEach(({ field, order }, index) => {
    byField[field]!.push(index);
    byOrder[order]!.push(index);
  });
  const locks = compileLocks(operation, calendar, shifts, byOrder);
  const begun = compileBegun(operation, calendar, shifts, locks);
  const slots = shiftsLeft(shifts, begun);
  const own = withOwnWindows(grounds, blocks, { windows, allWindows }, locks);
  const problem: Uncrewed = {
    operation,
    calendar,
    orders,
    grounds: own.grounds,
    blocks: own.blocks,
    blocksOfField: byField,
    blocksOfOrder: byOrder,
    seasonLimits,
    groups,
    types,
    crews: fleet.crews,
    baseOfCrew,
    options,
    choices: fleet.crews.map((crew, at) => compileChoices(operation, crew, options[at]!)),
    qualified: fleet.crews.map((crew, at) => compileQualified(operation, crew, options[at]!, licenceSets)),
    licences: licenceSets.length,
    licenceSets,
    slots,
    slotsOfCrew: fleet.crews.map((_, crew) => slots.flatMap((slot, index) => (slot.crew === crew ? [index] : []))),
    windows: own.windows,
    firstWindow: firstWindows(own.windows, calendar),
    ...travel,
    equipment,
    neighbours: nearest(blocks, operation),
    work: createWorkTable(
      groundFor,
      signatures,
      blocks.map(({ area, order }) => ({ area, order: orders[order]!, padPlaces: padPlacesOf(orders[order]!) })),
      (block, signature) => {
        const { area, ground } = blocks[block]!;
        return area === grounds[ground]!.area ? wholeGrounds.known(ground, signature) : undefined;
      },
    ),
    signatures,
    published:
      published === null
        ? null
        : compilePublished(
            operation,
            calendar.dates,
            slots,
            blocks.map(({ block }) => block),
            published,
          ),
    risk: compileRisk(settings, calendar),
    locks,
    begun,
    dutyBeforeMin: compileDutyBefore(operation),
  };
  const choices = fleet.crews.map((_, crew) => choicesOf(problem, bestOf[crew]!, crew));
  const slotsOfBlock = blocks.map((_, block) => slotsLeftBy(locks, slotsThatCould(problem, choices, block), block));
  return compileRoutes({
    ...problem,
    slotsOfBlock,
    open: blocks.flatMap((_, block) => (slotsOfBlock[block]!.length > 0 ? [block] : [])),
    openMin: Float64Array.from(own.blocks, ({ ground }) => openMinutes(problem, ground)),
  });
}

/** The same part of the same order. */
function isSameGround(a: OrderGround, b: OrderGround): boolean {
  return a.order === b.order && a.isRest === b.isRest;
}

/** Signatures that take the same minutes but once. */
function firstOfAlike(all: readonly number[], signatures: Signatures): number[] {
  const first = new Map<number, number>();
  for (const signature of all) {
    const { alike } = signatures.at(signature);
    if (!first.has(alike)) first.set(alike, signature);
  }
  return [...first.values()];
}

function toBlock(
  order: ProblemOrder,
  index: number,
  ground: number,
  area: ProblemBlock["area"],
  part: number,
  parts: number,
): ProblemBlock {
  const areaHa = haFromM2(areaM2(area));
  return {
    block: {
      id: `${order.order.id}#${part + 1}` as BlockId,
      orderId: order.order.id,
      part: part + 1,
      parts,
      areaHa,
      geometry: toMultiPolygon(order.plane, area),
    },
    area,
    order: index,
    ground,
    field: order.field,
    areaHa,
    waterL: order.liquid ? areaHa * order.ratePerHa : 0,
    valueCents: areaHa * order.valueCentsPerHa,
  };
}

function compileWindows(
  orders: readonly ProblemOrder[],
  grounds: readonly OrderGround[],
  operation: Operation,
  agronomy: Agronomy,
): (Int32Array | null)[] {
  return grounds.flatMap(({ order: index, isRest }) => {
    const { order } = orders[index]!;
    const isForbidden = agronomy.orderLimits(order).length > 0;
    return operation.fleet.aircraftTypes.flatMap((type) => {
      if (isForbidden || agronomy.typeLimits(order, type).length > 0) return [null, null];
      const of = (night: boolean) =>
        Int32Array.from(
          agronomy
            .windows(order, type, isRest ? { night, rest: true } : { night })
            .windows.flatMap(({ startMin, endMin }) => [startMin, endMin]),
        );
      const day = of(false);
      return [day, type.nightCapable ? of(true) : day];
    });
  });
}

/** Blocks that begin at a minute of a lock lie on ground of their own, with windows that begin there; the minute may have passed. */
function withOwnWindows(
  grounds: readonly OrderGround[],
  blocks: readonly ProblemBlock[],
  { windows, allWindows }: Record<"windows" | "allWindows", readonly (Int32Array | null)[]>,
  { startMin }: Locks,
): Pick<Problem, "grounds" | "blocks" | "windows"> {
  if (startMin.every((min) => min < 0)) return { grounds, blocks, windows };
  const variants = windows.length / grounds.length;
  const own = { grounds: [...grounds], windows: [...windows] };
  return {
    ...own,
    blocks: blocks.map((block, index) => {
      if (startMin[index]! < 0) return block;
      const { ground } = block;
      own.windows.push(
        ...allWindows
          .slice(ground * variants, (ground + 1) * variants)
          .map((list) => windowsFrom(list, startMin[index]!)),
      );
      return { ...block, ground: own.grounds.push({ ...grounds[ground]!, lockedBlock: block.block.id }) - 1 };
    }),
  };
}

function firstWindows(windows: readonly (Int32Array | null)[], calendar: Calendar): Int32Array {
  const days = calendar.dates.length;
  const first = new Int32Array(windows.length * days);
  windows.forEach((list, variant) => {
    if (list === null) return;
    let w = 0;
    for (let day = 0; day < days; day++) {
      while (w < list.length && list[w + 1]! <= calendar.dayStartMin[day]!) w += 2;
      first[variant * days + day] = w;
    }
  });
  return first;
}

type Uncrewed = Omit<Problem, "slotsOfBlock" | "open" | "openMin" | "routes" | "profileOf" | "kindOf">;

/** What a crew could take of one type, the most aircraft first: they are nearly always the quickest. */
interface Choices {
  readonly type: number;
  readonly outfits: readonly { readonly option: number; readonly signature: number; readonly tenderL: number }[];
}

function choicesOf(problem: Uncrewed, bestOf: readonly (readonly number[])[], crew: number): Choices[] {
  const options = problem.options[crew]!;
  return [...new Set(options.map(({ type }) => type))].map((type) => ({
    type,
    outfits: options
      .flatMap((option, at) =>
        option.type === type ? bestOf[at]!.map((signature) => ({ option: at, signature })) : [],
      )
      .map((outfit) => ({ ...outfit, tenderL: problem.signatures.at(outfit.signature).tender.waterL }))
      .reverse(),
  }));
}

/** Slots in whose shift the quickest outfit of the crew's base could finish the block in a window. */
function slotsThatCould(problem: Uncrewed, choices: readonly (readonly Choices[])[], block: number): number[] {
  const { order, ground, waterL } = problem.blocks[block]!;
  const { licence } = problem.orders[order]!;
  return choices.flatMap((ofCrew, crew) => {
    const qualified = problem.qualified[crew]!;
    const tries = ofCrew.map(({ type, outfits }) => ({
      type,
      outfits: outfits.filter(
        ({ option, tenderL }) => qualified[option * problem.licences + licence] === 1 && waterL <= tenderL,
      ),
      asked: 0,
      leastMin: Number.POSITIVE_INFINITY,
    }));
    return problem.slotsOfCrew[crew]!.filter((slot) =>
      tries.some((each) => {
        const longestMin = windowOverlap(problem, ground, each.type, slot);
        // No more outfits are asked than it takes to know.
        while (longestMin > 0 && each.leastMin > longestMin && each.asked < each.outfits.length) {
          const minutes = problem.work.minutes(block, each.outfits[each.asked++]!.signature);
          if (minutes > 0) each.leastMin = Math.min(each.leastMin, minutes);
        }
        return each.leastMin <= longestMin;
      }),
    );
  });
}

function openMinutes(problem: Pick<Problem, "types" | "windows">, ground: number): number {
  let most = 0;
  for (let type = 0; type < problem.types.length; type++) {
    const list = problem.windows[(ground * problem.types.length + type) * 2] ?? null;
    if (list === null) continue;
    let sum = 0;
    for (let w = 0; w < list.length; w += 2) sum += list[w + 1]! - list[w]!;
    most = Math.max(most, sum);
  }
  return most;
}

/** By straight distance between first pads, on a plane that is true enough for an order of nearness. */
function nearest(blocks: readonly ProblemBlock[], operation: Operation): Int32Array[] {
  if (blocks.length === 0) return [];
  const points = blocks.map(({ field }) => {
    const { lonDeg, latDeg } = operation.fields.features[field]!.properties.pads[0]!;
    return [lonDeg * Math.cos((latDeg * Math.PI) / 180), latDeg] as const;
  });
  const index = new Flatbush(points.length);
  for (const [x, y] of points) index.add(x, y, x, y);
  index.finish();
  return points.map(([x, y], block) =>
    Int32Array.from(index.neighbors(x, y, neighboursKept + 1).filter((other) => other !== block)),
  );
}
