import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import type { StopProgress } from "../../../shared/plan/stopProgress.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { planDifferenceSchema } from "../../../shared/replan/difference.ts";
import { differenceText } from "../../../shared/replan/differenceText.ts";
import { asTold } from "../../../shared/replan/happened.ts";
import { planDifference } from "../../../shared/replan/planDifference.ts";
import { replanOperation } from "../../../shared/replan/replanOperation.ts";
import { planned } from "../../support/planned.ts";

const operation = generateOperation({ orders: 40, crews: 4, days: 5, seed: 8 });
const published = planned(operation, 60);
const calendar = createCalendar(operation.settings);
const localOf = (min: number) => calendar.isoOfMin(min).slice(0, "2027-06-07T05:30".length);

const stops = published.crewDays
  .flatMap((crewDay) => worksOf(crewDay).map((work) => ({ crewDay, work })))
  .toSorted((a, b) => a.work.startMin - b.work.startMin);
/** In the middle of a stop of the second day. */
const running = stops.find(({ crewDay }) => crewDay.date === calendar.dates[1])!;
const nowMin = Math.floor((running.work.startMin + running.work.endMin) / 2);
const asOf = localOf(nowMin);
const progress = asTold(published, calendar.isoOfMin(nowMin));
const idOf = (stop: (typeof stops)[number]) => stop.work.blockId;
const blockOf = (id: string) => published.blocks.find((block) => block.id === id)!;
/** A stop of a day to come, of a crew with several. */
const later = stops.find(({ crewDay }) => crewDay.date > calendar.dates[1]! && worksOf(crewDay).length > 1)!;

/** Plans again after a turn of things and tells the difference; `planned` has the checker pass the plan. */
function again(now: Operation, done: readonly StopProgress[] = progress, iterations = 60) {
  const told = [{ plan: published, operation, progress: done }] as const;
  const left = replanOperation({ operation: now, told: [...told], asOf });
  const validation = validateOperation(JSON.parse(JSON.stringify(left.operation)));
  expect(validation.ok ? [] : validation.faults).toEqual([]);
  const plan = planned(left.operation, iterations, { published });
  const difference = planDifference({ operation, plan: published }, { operation: left.operation, plan }, left.fates);
  expect(planDifferenceSchema.parse(difference)).toEqual(difference);
  expect(differenceText(difference)).not.toMatch(/undefined|NaN/);
  const wasOnDays = published.crewDays
    .filter(({ date }) => date >= left.operation.settings.firstDay)
    .flatMap(worksOf).length;
  const { kept, moved, dropped, done: over } = difference.counts;
  expect(kept + moved + dropped + over).toBe(wasOnDays);
  return { left, plan, difference, of: (id: string) => difference.changes.filter((one) => one.blockId === id) };
}

const withFleet = (fleet: Partial<Operation["fleet"]>): Operation => ({
  ...operation,
  fleet: { ...operation.fleet, ...fleet },
});

describe("a plan made again after", () => {
  it("nothing at all differs in nothing but time", () => {
    const { difference } = again(operation, progress, 0);
    const { kept, done } = difference.counts;
    expect(kept + done).toBe(difference.before.stops);
    expect(difference.changes.filter(({ kind }) => kind !== "done")).toEqual([]);
  });

  it("a new forecast: what the wind closes moves or goes, with the limit", () => {
    const day = later.crewDay.date;
    const windy = operation.weather.map((step) =>
      step.start.startsWith(day) ? { ...step, windKph: 60, gustKph: 80 } : step,
    );
    const { difference } = again({ ...operation, weather: windy });
    const ofDay = difference.changes.filter(({ before }) => before?.date === day);
    expect(ofDay.length).toBe(stops.filter(({ crewDay }) => crewDay.date === day).length);
    for (const { reason, sentence, now } of ofDay) {
      expect(reason).toBe("limit");
      expect(sentence).toMatch(/^From \d\d:\d\d on: .*(wind|gust)/);
      expect(now?.date).not.toBe(day);
    }
    expect(difference.changes.filter(({ reason }) => reason === "limit").length).toBe(ofDay.length);
  });

  it("an aircraft out: its stops are told with it, or the outfit is", () => {
    const { date, outfit, crewId } = later.crewDay;
    const lost = outfit.aircraftIds[0]!;
    const { difference, plan } = again(
      withFleet({
        aircraft: operation.fleet.aircraft.map((one) =>
          one.id === lost ? { ...one, outOfService: [{ from: date, to: calendar.dates.at(-1)! as typeof date }] } : one,
        ),
      }),
    );
    expect(plan.crewDays.some((day) => day.date >= date && day.outfit.aircraftIds.includes(lost))).toBe(false);
    const told = [
      ...difference.outfits.filter((one) => one.crewId === crewId && one.date === date),
      ...difference.changes.filter(({ before }) => before?.crewId === crewId && before.date === date),
    ];
    expect(told.some(({ reason, sentence }) => reason === "thingOut" && sentence.includes(lost))).toBe(true);
  });

  it("an aircraft out in the middle of its day: what it has done stays done", () => {
    const { crewDay } = running;
    const lost = crewDay.outfit.aircraftIds[0]!;
    const first = worksOf(crewDay)[0]!;
    const stopped = progress.map((one) =>
      one.blockId === running.work.blockId
        ? { ...one, state: "stopped" as const, endedAt: new Date(calendar.epochMsOfMin(nowMin)).toISOString() }
        : one,
    );
    const { plan, left, of } = again(
      withFleet({
        aircraft: operation.fleet.aircraft.map((one) =>
          one.id === lost
            ? { ...one, outOfService: [{ from: crewDay.date, to: calendar.dates.at(-1)! as typeof crewDay.date }] }
            : one,
        ),
      }),
      stopped,
    );
    expect(plan.brokenLocks ?? []).toEqual([]);
    if (first !== running.work) expect(of(first.blockId)).toEqual([expect.objectContaining({ kind: "done" })]);
    const order = left.operation.orders.find(({ id }) => id === blockOf(idOf(running)).orderId);
    expect(order?.ground).toBeDefined();
  });

  it("a crew out: every stop of its day is told with it", () => {
    const { crewId, date } = later.crewDay;
    const { difference } = again(
      withFleet({
        crews: operation.fleet.crews.map((crew) =>
          crew.id === crewId ? { ...crew, shifts: crew.shifts.filter((shift) => shift.date !== date) } : crew,
        ),
      }),
    );
    const own = difference.changes.filter(({ before }) => before?.crewId === crewId && before.date === date);
    expect(own.map(({ reason }) => reason)).toEqual(worksOf(later.crewDay).map(() => "crewOut"));
  });

  it("an order withdrawn: its stops are dropped for that", () => {
    const { orderId } = blockOf(idOf(later));
    const { difference } = again({
      ...operation,
      orders: operation.orders
        .filter(({ id }) => id !== orderId)
        .map((order) => ({ ...order, apartFrom: order.apartFrom.filter((one) => one.orderId !== orderId) })),
    });
    const own = difference.changes.filter((one) => one.orderId === orderId);
    expect(own.length).toBeGreaterThan(0);
    for (const { kind, reason } of own) expect([kind, reason]).toEqual(["dropped", "orderWithdrawn"]);
  });

  it("an order added: it is told as new, and what gives way is told with it", () => {
    const like = operation.orders.find(({ id }) => id === blockOf(idOf(later)).orderId)!;
    const added = { ...like, id: "O-new" as typeof like.id, priority: "mandatory" as const, apartFrom: [] };
    // On a field of its own, so that no interval keeps it from being worked.
    const field = operation.fields.features.find(({ properties }) => properties.id === like.fieldId)!;
    const fieldId = "F-new" as typeof like.fieldId;
    const far = JSON.parse(JSON.stringify(field.geometry), (_, value) =>
      Array.isArray(value) && typeof value[0] === "number" ? [value[0] + 0.3, value[1]] : value,
    ) as typeof field.geometry;
    const moved = {
      ...field,
      geometry: far,
      properties: {
        ...field.properties,
        id: fieldId,
        name: "New Field",
        hazards: [],
        pads: field.properties.pads.map((pad) => ({ ...pad, lonDeg: pad.lonDeg + 0.3 })),
      },
    };
    const { difference } = again({
      ...operation,
      fields: { ...operation.fields, features: [...operation.fields.features, moved] },
      orders: [...operation.orders, { ...added, fieldId }],
    });
    const own = difference.changes.filter(({ orderId }) => orderId === added.id);
    expect(own.length).toBeGreaterThan(0);
    for (const one of own) expect(one).toMatchObject({ kind: "added", reason: "orderNew", before: null });
  });

  it("work that was stopped halfway: what is left is planned, and no more than that", () => {
    const block = blockOf(idOf(running));
    const half = progress.map((one) =>
      one.blockId === block.id
        ? {
            ...one,
            state: "stopped" as const,
            doneHa: block.areaHa / 2,
            endedAt: new Date(calendar.epochMsOfMin(nowMin)).toISOString(),
          }
        : one,
    );
    const { plan, left } = again(operation, half);
    const doneBefore = published.blocks
      .filter(
        ({ orderId, id }) =>
          orderId === block.orderId && half.some((one) => one.blockId === id && one.state === "finished"),
      )
      .reduce((sum, { areaHa }) => sum + areaHa, 0);
    const wholeHa = published.blocks
      .filter(({ orderId }) => orderId === block.orderId)
      .reduce((sum, { areaHa }) => sum + areaHa, 0);
    const leftHa = plan.blocks
      .filter(({ orderId }) => orderId === block.orderId)
      .reduce((sum, { areaHa }) => sum + areaHa, 0);
    // A pass is the finest that it can be cut at: common practice, no source.
    expect(leftHa).toBeGreaterThan(0.9 * (wholeHa - doneBefore - block.areaHa / 2));
    expect(leftHa).toBeLessThan(1.1 * (wholeHa - doneBefore - block.areaHa / 2));
    const order = left.operation.orders.find(({ id }) => id === block.orderId)!;
    const field = left.operation.fields.features.find(({ properties }) => properties.id === order.fieldId)!;
    expect(field.properties.pastApplications.filter(({ orderId }) => orderId === order.id)).toHaveLength(
      order.products.length,
    );
  });

  it("a stop that nobody began: it is told as missed and free again", () => {
    const quiet = progress.filter(({ blockId }) => blockId !== running.work.blockId);
    const { difference, left } = again(operation, quiet);
    expect(left.fates.find(({ blockId }) => blockId === running.work.blockId)?.fate).toBe("missed");
    const own = difference.changes.filter(
      ({ before, orderId }) => before?.date === running.crewDay.date && orderId === blockOf(idOf(running)).orderId,
    );
    const { changeStartToleranceMin } = operation.settings.planning;
    const isBeyond = own.some(({ reason }) => reason === "missed");
    // Begun anew within the tolerance it has not changed for those who wait for it.
    expect(isBeyond || nowMin - running.work.startMin <= changeStartToleranceMin).toBe(true);
  });
});

describe("the difference of a plan and itself", () => {
  it("is none", () => {
    const both = { operation, plan: published };
    const { counts, changes, outfits } = planDifference(both, both);
    expect(changes).toEqual([]);
    expect(outfits).toEqual([]);
    expect(counts.kept).toBe(stops.length);
  });

  it("is told of a plan that has nothing", () => {
    const empty: Plan = { ...published, crewDays: [] };
    const { counts } = planDifference({ operation, plan: published }, { operation, plan: empty });
    expect(counts).toMatchObject({ kept: 0, dropped: stops.length, added: 0 });
  });
});
