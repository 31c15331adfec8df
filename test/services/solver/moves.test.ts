import { describe, expect, it } from "vitest";
import { judgeMoves } from "../../../services/moves/judgeMoves.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { type Moved, movePlan } from "../../../services/solver/moves/movePlan.ts";
import { prepareFor, type Standing, standingOf } from "../../../services/solver/moves/standing.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Move } from "../../../shared/contracts/moves.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { lockSchema } from "../../../shared/model/locks.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { CrewId } from "../../../shared/model/quantities.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { type Stop, stopsOf, worksOf } from "../../../shared/plan/totals.ts";
import { sleepingAtInn } from "../../support/inn.ts";
import { planned } from "../../support/planned.ts";
import { richOperation } from "../../support/richOperation.ts";
import { seededRandom } from "../../support/seededRandom.ts";

function stand(operation: Operation, plan: Plan): Standing {
  const agronomy = createAgronomy(operation, createCalendar(operation.settings));
  const standing = standingOf(prepareFor(operation, plan, agronomy), plan);
  if (standing === null) throw new Error("the plan does not stand");
  return standing;
}

const generated = generateOperation({ orders: 40, crews: 4, days: 5, seed: 8 });
const week = stand(generated, planned(generated, 400));

type Gone = Extract<Moved, { goes: true }>;
function goes(moved: Moved): Gone {
  if (!moved.goes) throw new Error(moved.sentence);
  return moved;
}

const stopOf = (plan: Plan, blockId: string) => stopsOf(plan).find(({ block }) => block.id === blockId);
const lessThan = (text: string, other: string) => (text < other ? -1 : 1);
const keyOf = ({ crewId, date }: { crewId: string; date: string }) => `${crewId} ${date}`;

/** Any stop to any crew-day of the week, at any place of it or where it costs least; now and then out of the plan. */
function anyMove(random: () => number, { plan, prepared }: Standing): Move {
  const pick = <Item>(items: readonly Item[]): Item => items[Math.floor(random() * items.length)]!;
  const { blocks } = plan;
  const blockId = pick(blocks).id;
  if (random() < 0.1) return { blockId, to: null };
  const { slots, crews, calendar } = prepared.problem;
  const { crew, day } = pick(slots);
  const [crewId, date] = [crews[crew]!.id, calendar.dates[day]!];
  const there = plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
  const others = there === undefined ? [] : worksOf(there).filter((work) => work.blockId !== blockId);
  const after = random() < 0.4 ? {} : { after: pick([null, ...others.map((work) => work.blockId)]) };
  return { blockId, to: { crewId, date, ...after } };
}

describe("a plan made again near to a published one", () => {
  it("is cut as the published one was, though it would be cut otherwise today, and can be moved by hand", () => {
    const finer = structuredClone(generated);
    const settings = { ...finer.settings, planning: { ...finer.settings.planning, blockMaxMin: 40 } };
    const operation = { ...finer, settings };
    const { plan } = week;
    const again = planned(operation, 50, { published: plan });
    const cutOf = ({ blocks }: Plan) => blocks.map(({ id }) => id);
    expect(cutOf(again)).not.toEqual(cutOf(planned(operation, 0)));
    const standing = stand(operation, again);
    const { block } = stopsOf(again)[0]!;
    const moved = goes(movePlan(standing, [{ blockId: block.id, to: null }], true));
    expect(checkPlan(operation, moved.plan).breaches).toEqual([]);
    expect(stopOf(moved.plan, block.id)).toBeUndefined();
  });
});

describe("any move that goes", () => {
  it("comes to a plan that the checker passes whole, with all other crew-days as they were to the byte", () => {
    const random = seededRandom(4);
    const before = new Map(week.plan.crewDays.map((crewDay) => [keyOf(crewDay), crewDay]));
    let went = 0;
    let refused = 0;
    for (let tried = 0; tried < 120; tried++) {
      const move = anyMove(random, week);
      const isKept = tried % 10 === 0;
      const moved = movePlan(week, [move], isKept);
      if (!moved.goes) {
        refused++;
        expect(moved.sentence).toMatch(/\.$/);
        continue;
      }
      went++;
      expect(checkPlan(generated, moved.plan).breaches).toEqual([]);
      const stop = stopOf(moved.plan, move.blockId);
      if (move.to === null) expect(stop).toBeUndefined();
      else expect(keyOf(stop!.crewDay)).toBe(keyOf(move.to));
      const touched = new Set(moved.touched.map(keyOf));
      const from = stopOf(week.plan, move.blockId);
      const mayTouch = new Set([...(from ? [keyOf(from.crewDay)] : []), ...(move.to ? [keyOf(move.to)] : [])]);
      for (const key of touched) expect(mayTouch).toContain(key);
      for (const crewDay of moved.plan.crewDays) {
        if (!touched.has(keyOf(crewDay))) expect(crewDay).toEqual(before.get(keyOf(crewDay)));
      }
      // Whatever is not planned any more was taken out, or is told.
      for (const { sentence } of moved.leftOut) expect(sentence).toMatch(/^[A-Z].*\.$/);
      const told = new Set<string>([...moved.leftOut.map(({ blockId }) => blockId), move.blockId]);
      const lost = stopsOf(week.plan).filter(({ block }) => stopOf(moved.plan, block.id) === undefined);
      for (const { block } of lost) expect(told).toContain(block.id);
    }
    // Common sense, no source: a week of four crews has room for some moves and not for most.
    expect(went).toBeGreaterThan(15);
    expect(refused).toBeGreaterThan(15);
  });

  it("moved back again costs what the plan cost, where nothing was pushed out", () => {
    const random = seededRandom(9);
    let back = 0;
    for (let tried = 0; tried < 60; tried++) {
      const move = anyMove(random, week);
      const from = stopOf(week.plan, move.blockId);
      if (from === undefined || move.to === null) continue;
      const works = worksOf(from.crewDay);
      const at = works.findIndex(({ blockId }) => blockId === move.blockId);
      const { crewId, date } = from.crewDay;
      const after = at === 0 ? null : works[at - 1]!.blockId;
      // The day's outfit goes home with its last stop, and may be another one when the stop comes back.
      if (works.length === 1) continue;
      const there = movePlan(week, [move], false);
      if (!there.goes || there.leftOut.length > 0) continue;
      const again = movePlan(
        stand(generated, there.plan),
        [{ blockId: move.blockId, to: { crewId, date, after } }],
        false,
      );
      if (!again.goes) continue;
      expect(again.plan.score.totalCents).toBe(week.plan.score.totalCents);
      expect(again.plan.crewDays).toEqual(week.plan.crewDays);
      back++;
    }
    expect(back).toBeGreaterThan(5);
  });

  it("comes to the same twice", () => {
    const random = seededRandom(12);
    for (let tried = 0; tried < 10; tried++) {
      const move = anyMove(random, week);
      expect(JSON.stringify(movePlan(week, [move], true))).toBe(JSON.stringify(movePlan(week, [move], true)));
    }
  });
});

describe("a move", () => {
  const some = (isRight: (stop: Stop) => boolean) => stopsOf(week.plan).find(isRight)!;
  const stop = some(({ crewDay }) => worksOf(crewDay).length > 2);

  it("out of the plan is told as taken out by hand, and so it stays", () => {
    const out = goes(movePlan(week, [{ blockId: stop.block.id, to: null }], true)).plan;
    const conflict = out.conflicts.find(({ blockIds }) => blockIds.includes(stop.block.id))!;
    expect(conflict).toMatchObject({
      kind: "byHand",
      evidence: { crewDay: { crewId: stop.crewDay.crewId, date: stop.crewDay.date } },
    });
    const other = some(({ block, crewDay }) => block.orderId !== stop.block.orderId && crewDay !== stop.crewDay);
    const then = goes(movePlan(stand(generated, out), [{ blockId: other.block.id, to: null }], true)).plan;
    expect(then.conflicts.filter(({ kind }) => kind === "byHand")).toHaveLength(2);
    expect(then.conflicts.find(({ blockIds }) => blockIds.includes(stop.block.id))).toEqual(conflict);
    expect(checkPlan(generated, then).breaches).toEqual([]);
  });

  it("keeps what was published, against which changes are counted", () => {
    const planning = { ...generated.settings.planning, changeCrewDayCents: 5000, changeDroppedCents: 20_000 };
    const operation = { ...generated, settings: { ...generated.settings, planning } };
    const plan = planned(operation, 200, { published: week.plan });
    const first = stopsOf(plan).find(({ block }) => week.plan.blocks.some(({ id }) => id === block.id))!;
    const out = goes(movePlan(stand(operation, plan), [{ blockId: first.block.id, to: null }], false)).plan;
    expect(out.published).toEqual(plan.published);
    expect(checkPlan(operation, out).breaches).toEqual([]);
    expect(out.score.changeCents! - plan.score.changeCents!).toBeGreaterThanOrEqual(20_000 - 5000);
  });

  it("to a minute begins then, or is refused with a sentence", () => {
    const calendar = createCalendar(generated.settings);
    let began = 0;
    for (const { block, crewDay, work } of stopsOf(week.plan)) {
      const last = worksOf(crewDay).at(-1)!;
      if (last.blockId !== block.id || began === 3) continue;
      const startAt = calendar.isoOfMin(work.startMin + 3).slice(0, 16);
      const { crewId, date } = crewDay;
      const before = worksOf(crewDay).at(-2)?.blockId ?? null;
      const moved = movePlan(week, [{ blockId: block.id, to: { crewId, date, after: before, startAt } }], false);
      if (!moved.goes) continue;
      began++;
      expect(stopOf(moved.plan, block.id)!.work.startMin).toBe(work.startMin + 3);
      expect(checkPlan(generated, moved.plan).breaches).toEqual([]);
    }
    expect(began).toBe(3);
    const midnight = `${stop.crewDay.date}T00:00`;
    const { crewId, date } = stop.crewDay;
    const refused = movePlan(week, [{ blockId: stop.block.id, to: { crewId, date, startAt: midnight } }], false);
    expect(refused).toMatchObject({ goes: false, sentence: expect.stringContaining("begin at 00:00") });
  });

  it.each<[string, Move, RegExp]>([
    ["of an unknown block", { blockId: "O-none#1" as Move["blockId"], to: null }, /no block O-none#1/],
    [
      "to an unknown crew",
      { blockId: stop.block.id, to: { crewId: "nobody" as CrewId, date: stop.crewDay.date } },
      /no crew nobody/,
    ],
    [
      "to a day without a shift",
      { blockId: stop.block.id, to: { crewId: stop.crewDay.crewId, date: "2030-01-01" } },
      /no shift on 2030-01-01/,
    ],
    [
      "after a stop of another day",
      {
        blockId: stop.block.id,
        to: {
          crewId: stop.crewDay.crewId,
          date: stop.crewDay.date,
          after: some(({ crewDay }) => crewDay !== stop.crewDay).block.id,
        },
      },
      /is not among the stops/,
    ],
  ])("%s is refused", (_what, move, words) => {
    expect(movePlan(week, [move], false)).toMatchObject({ goes: false, sentence: expect.stringMatching(words) });
  });

  it("of what is locked is refused; within its day it goes", () => {
    const { crewId, date } = stop.crewDay;
    const lock = lockSchema.parse({ crewId, date, stops: [{ orderId: stop.block.orderId, part: stop.block.part }] });
    const operation = { ...generated, locks: [lock] };
    const standing = stand(operation, week.plan);
    expect(movePlan(standing, [{ blockId: stop.block.id, to: null }], false)).toMatchObject({
      goes: false,
      sentence: expect.stringContaining("Take the lock away first"),
    });
    const last = worksOf(stop.crewDay).at(-1)!.blockId;
    const moved = movePlan(standing, [{ blockId: last, to: { crewId, date, after: null } }], false);
    if (moved.goes) {
      expect(stopOf(moved.plan, stop.block.id)?.crewDay.date).toBe(date);
      expect(checkPlan(operation, moved.plan).breaches).toEqual([]);
    } else expect(moved.sentence).not.toBe("");
  });

  it("tells what changes in cost part by part, and the new times of the days", () => {
    const { judgement, kept } = judgeMoves(week, [{ blockId: stop.block.id, to: null }], true, undefined);
    expect(judgement).toMatchObject({ allowed: true, why: [], breaches: [] });
    expect(judgement.parts.reduce((sum, { cents }) => sum + cents, 0)).toBe(judgement.costCents);
    expect(judgement.costCents).toBe(kept!.plan.score.totalCents - week.plan.score.totalCents);
    expect(judgement.before.servedHa - judgement.after!.servedHa).toBeCloseTo(stop.block.areaHa, 6);
    expect(judgement.crewDays.map(keyOf)).toEqual([keyOf(stop.crewDay)]);
  });
});

describe("several moves", () => {
  it("empty a day, and the crew stays at home", () => {
    const crewDay = week.plan.crewDays.toSorted((a, b) => worksOf(a).length - worksOf(b).length)[0]!;
    const out = worksOf(crewDay).map(({ blockId }): Move => ({ blockId, to: null }));
    const moved = goes(movePlan(week, out, false));
    expect(moved.plan.crewDays.map(keyOf)).not.toContain(keyOf(crewDay));
    expect(moved.touched.map(keyOf)).toContain(keyOf(crewDay));
    expect(checkPlan(generated, moved.plan).breaches).toEqual([]);
    const back = out.map(({ blockId }): Move => ({ blockId, to: { crewId: crewDay.crewId, date: crewDay.date } }));
    const again = goes(movePlan(stand(generated, moved.plan), back, false));
    expect(
      worksOf(again.plan.crewDays.find((one) => keyOf(one) === keyOf(crewDay))!)
        .map(({ blockId }) => blockId)
        .sort(lessThan),
    ).toEqual(
      worksOf(crewDay)
        .map(({ blockId }) => blockId)
        .sort(lessThan),
    );
  });
});

describe.each([
  ["everything in one week", richOperation()],
  ["nights at an inn", sleepingAtInn(generateOperation({ orders: 30, crews: 3, days: 4, seed: 5 }), 30)],
])("moves of %s", (_name, operation) => {
  it("come to plans that the checker passes", () => {
    const standing = stand(operation, planned(operation, 300));
    const random = seededRandom(21);
    let went = 0;
    for (let tried = 0; tried < 40; tried++) {
      const moves = [anyMove(random, standing), ...(tried % 3 === 0 ? [anyMove(random, standing)] : [])];
      const moved = movePlan(standing, moves, tried % 4 === 0);
      if (!moved.goes) continue;
      went++;
      expect(checkPlan(operation, moved.plan).breaches).toEqual([]);
    }
    expect(went).toBeGreaterThan(5);
  });
});
