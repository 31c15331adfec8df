import { describe, expect, it } from "vitest";
import { findRemedies } from "../../../../services/solver/remedies/findRemedies.ts";
import { changedBy, createTrying, type TryTask } from "../../../../services/solver/remedies/tryChanges.ts";
import { remediesSchema } from "../../../../shared/cases/remedy.ts";
import { remedyFaults } from "../../../../shared/cases/remedyGuard.ts";
import { remediesText } from "../../../../shared/cases/remedyText.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import type { Plan } from "../../../../shared/plan/plan.ts";
import { stopsOf, sumOf } from "../../../../shared/plan/totals.ts";
import { planned } from "../../../support/planned.ts";
import { remediesOf } from "../../../support/remediesOf.ts";
import { tightOperation } from "../../../support/tightOperation.ts";

const fresh = (operation: Operation) =>
  [1, 2]
    .map((seed) => planned(operation, 600, { seed }))
    .reduce((best, next) => (next.score.totalCents < best.score.totalCents ? next : best));
const servedHa = (plan: Plan, orderIds: readonly string[]) =>
  sumOf(
    stopsOf(plan).filter(({ block }) => orderIds.includes(block.orderId)),
    ({ block }) => block.areaHa,
  );

/** Beside others that take all cores. */
const timeout = 300_000;

/** A hundred of them: `npm run bench -- remedies`. The same seed tells the same every time. */
describe("remedies of tight operations", () => {
  it("win afresh what they claim", { timeout }, async () => {
    const operation = tightOperation(2);
    const base = fresh(operation);
    const done = new Set<string>(stopsOf(base).map(({ block }) => block.id));
    const explained = base.conflicts.flatMap(({ blockIds }) => blockIds);
    expect([...explained].sort()).toEqual(
      base.blocks
        .map(({ id }) => id)
        .filter((id) => !done.has(id))
        .sort(),
    );

    const remedies = await remediesOf({ operation, plan: base, seed: 1, iterations: 60 });
    expect(remediesSchema.parse(remedies)).toEqual(remedies);
    const told = remedies.groups.flatMap((group) => group.remedies);
    expect(told.length).toBeGreaterThan(0);
    for (const remedy of told) {
      expect(remedyFaults(operation, remedy.changes)).toEqual([]);
      expect(remedy.valueCents - remedy.costCents - remedy.hireCents).toBe(remedy.netCents);
      const plan = fresh(changedBy(operation, remedy.changes)!);
      const realisedHa = servedHa(plan, remedy.orderIdsWon) - servedHa(base, remedy.orderIdsWon);
      expect(realisedHa, remedy.sentence).toBeGreaterThan(remedy.haWon - 0.2);
    }
  });

  it("that time ran out for before they were sure are told as left out, not as no help", { timeout }, async () => {
    const operation = tightOperation(2);
    const plan = planned(operation, 200);
    const tryOne = createTrying(operation, plan, { iterations: 20 });
    // The searches without a change and the first round end; after these time is up.
    let calls = 0;
    const tryAll = async (tasks: readonly TryTask[]) => (calls++ < 2 ? tasks.map(tryOne) : tasks.map(() => null));
    const { groups } = await findRemedies({ operation, plan, seed: 1, iterations: 20 }, tryAll);
    expect(groups.flatMap(({ remedies }) => remedies)).toEqual([]);
    expect(sumOf(groups, ({ tried }) => tried)).toBeGreaterThan(0);
    // Of more than 18 candidates the others are left out anyway.
    const known = groups.filter(({ tried, screened, leftOut }) => tried + screened + leftOut <= 18);
    expect(sumOf(known, ({ leftOut }) => leftOut)).toBeGreaterThan(0);
  });

  it("are the same every time, ranked, at most five of a group, and of the order that is asked for", {
    timeout,
  }, async () => {
    const operation = tightOperation(6);
    const plan = planned(operation, 200);
    const orderId = plan.conflicts[0]!.orderId;
    const ask = { operation, plan, seed: 1, iterations: 10 };
    const all = await remediesOf(ask);
    const one = await remediesOf({ ...ask, orderId });
    expect(one.groups).toEqual(all.groups.filter(({ group }) => group.orderIds.includes(orderId)));
    for (const { remedies } of all.groups) {
      expect(remedies.length).toBeLessThanOrEqual(5);
      expect(remedies).toEqual([...remedies].sort((a, b) => b.netCents - a.netCents || b.haWon - a.haWon));
    }
    const text = remediesText(all);
    for (const { group, remedies } of all.groups)
      for (const sentence of [group.sentence, ...remedies.map((remedy) => remedy.sentence)])
        expect(text.replace(/\s+/g, " ")).toContain(sentence);
  });

  it("are none where everything is planned", async () => {
    const operation = tightOperation(6);
    const plan = planned(operation, 0);
    const none = await remediesOf({ operation, plan: { ...plan, conflicts: [] }, seed: 1, iterations: 10 });
    expect(none.groups).toEqual([]);
    expect(remediesText(none)).toContain("nothing to remedy");
  });
});
