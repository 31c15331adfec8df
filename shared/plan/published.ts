import { areaM2 } from "../geo/area.ts";
import { intersection } from "../geo/clip.ts";
import { planeOf, toAreaXY } from "../geo/convert.ts";
import { type Calendar, createCalendar } from "../model/calendar.ts";
import type { BlockId } from "../model/quantities.ts";
import type { Settings } from "../model/settings.ts";
import type { Block, Plan, PublishedStop } from "./plan.ts";
import { groupBy, indexBy, type Stop, worksOf } from "./totals.ts";

/** The stops of a published plan on the days of a calendar: days before have been, days after are not planned yet. */
export function publishedStops(published: Plan, calendar: Calendar): PublishedStop[] {
  const theirs = createCalendar(published);
  const blocks = indexBy(published.blocks, (block) => block.id);
  return published.crewDays
    .filter(({ date }) => calendar.dates.includes(date))
    .flatMap((crewDay) =>
      worksOf(crewDay).flatMap(({ blockId, startMin }): PublishedStop[] => {
        const block = blocks.get(blockId);
        if (block === undefined) return [];
        const { orderId, areaHa, geometry } = block;
        const { crewId, date } = crewDay;
        const sinceMin = (theirs.epochMsOfMin(startMin) - calendar.epochMsOfMin(0)) / msPerMin;
        return [{ blockId, orderId, crewId, date, startMin: sinceMin, areaHa, geometry }];
      }),
    );
}

const msPerMin = 60_000;

/** Ground of an order, in a plan of now or of before. */
type Piece = Pick<Block, "orderId" | "areaHa" | "geometry">;

/** Our choice: a block takes the place of one of before when more than this share of its ground is of that one. Not just a half, which strips cut alike come to, so that rounding would decide. */
const sameShare = 0.505;

/** Which piece of before each block takes the place of: that of its order with which it shares the most ground. An order may be cut otherwise than before. */
export function takesPlaceOf<Before extends Piece>(
  before: readonly Before[],
  now: readonly Block[],
): ReadonlyMap<BlockId, Before> {
  const ofOrder = groupBy<Before, string>(before, ({ orderId }) => orderId);
  const found = new Map<BlockId, Before>();
  for (const block of now) {
    const pieces = ofOrder.get(block.orderId) ?? [];
    const piece = pieces.find((one) => isSameGround(one, block)) ?? mostShared(pieces, block);
    if (piece !== undefined) found.set(block.id, piece);
  }
  return found;
}

/** An area measured from what was written down differs by this share at most. */
const roundedShare = 1e-3;

function isSameGround(one: Piece, other: Piece): boolean {
  return (
    Math.abs(one.areaHa - other.areaHa) <= roundedShare * other.areaHa &&
    JSON.stringify(one.geometry.coordinates) === JSON.stringify(other.geometry.coordinates)
  );
}

function mostShared<Before extends Piece>(pieces: readonly Before[], block: Block): Before | undefined {
  if (pieces.length === 0) return undefined;
  const plane = planeOf(block.geometry);
  const area = toAreaXY(plane, block.geometry);
  let mostM2 = sameShare * areaM2(area);
  let most: Before | undefined;
  for (const piece of pieces) {
    const sharedM2 = areaM2(intersection(area, toAreaXY(plane, piece.geometry)));
    if (sharedM2 <= mostM2) continue;
    mostM2 = sharedM2;
    most = piece;
  }
  return most;
}

export type ChangeWeights = Pick<
  Settings["planning"],
  "changeCrewDayCents" | "changeDroppedCents" | "changeStartCents" | "changeStartToleranceMin"
>;

/** What may have become of a published stop. */
export type ChangeKind = "dropped" | "crewDay" | "start";

const priceOf: Record<ChangeKind, Exclude<keyof ChangeWeights, "changeStartToleranceMin">> = {
  dropped: "changeDroppedCents",
  crewDay: "changeCrewDayCents",
  start: "changeStartCents",
};

export interface Change {
  readonly kind: ChangeKind;
  readonly blockId: BlockId;
  readonly published: PublishedStop;
  readonly cents: number;
}

/** What is otherwise than published, in the order of the blocks. */
export function changesOf(
  weights: ChangeWeights,
  { blocks, published = [] }: Pick<Plan, "blocks" | "published">,
  stops: readonly Stop[],
): Change[] {
  const stopOf = indexBy(stops, (stop) => stop.block.id);
  return [...takesPlaceOf(published, blocks)].flatMap(([blockId, before]): Change[] => {
    const kind = changeOf(weights, before, stopOf.get(blockId));
    return kind === null ? [] : [{ kind, blockId, published: before, cents: weights[priceOf[kind]] }];
  });
}

function changeOf(
  { changeStartToleranceMin }: ChangeWeights,
  published: PublishedStop,
  stop: Stop | undefined,
): ChangeKind | null {
  if (stop === undefined) return "dropped";
  const { crewId, date } = stop.crewDay;
  if (crewId !== published.crewId || date !== published.date) return "crewDay";
  return Math.abs(stop.work.startMin - published.startMin) > changeStartToleranceMin ? "start" : null;
}
