import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { connectStore } from "../../../services/store/connect.ts";
import { startsMax } from "../../../services/store/starts.ts";
import type { Store } from "../../../services/store/store.ts";
import type { PartKey } from "../../../services/store/studyStore.ts";
import type { Study } from "../../../shared/contracts/studies.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase } from "../../support/servers.ts";
import { silenceWorkers } from "../../support/silence.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let store: Store;
let operationId: string;

beforeAll(async () => {
  database = await startTestDatabase();
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: () => undefined });
  operationId = (await store.importOperation(smallOperation({ settings: { name: "studied" } }), acting)).operation.id;
});
afterAll(async () => {
  await store.close();
  await database.stop();
});

const newStudy = async (parts: number) => {
  const study = await madeBy(
    store.addStudy(
      {
        kind: "cases",
        operationId,
        version: 1,
        ask: { seeds: [1] },
        parts: Array.from({ length: parts }, (_, number) => ({ number })),
      },
      acting,
    ),
  );
  const keys = Array.from({ length: parts }, (_, part): PartKey => ({ studyId: study.id, part }));
  return { id: study.id, study, keys, first: keys[0]! };
};
const done = (result: unknown) => ({ status: "done", result }) as const;
const read = async (studyId: string) => (await store.study(studyId))!;
const unfinishedOf = async (studyId: string) =>
  (await store.unfinishedParts(100_000)).filter((key) => key.studyId === studyId).map(({ part }) => part);

describe("sets of cases", () => {
  const set = (name: string, cases: unknown) => ({ operationId, name, document: { cases } });

  it("get a new version from a changed document only, and from a change back", async () => {
    const name = "one more aircraft";
    const told = [];
    for (const cases of [["a"], ["a"], ["a", "b"], ["a"]]) {
      const { outcome, caseSet } = await store.importCaseSet(set(name, cases), acting);
      told.push([outcome, caseSet.version]);
    }
    expect(told).toEqual([
      ["newVersion", 1],
      ["sameDocument", 1],
      ["newVersion", 2],
      ["newVersion", 3],
    ]);
    const [listed] = (await store.caseSetsOf(operationId)).filter((one) => one.name === name);
    expect(listed).toMatchObject({ version: 3, operationId });
    expect(await store.latestCaseSet(listed!.id)).toMatchObject({ version: 3, document: { cases: ["a"] } });
    expect(await store.caseSetVersion(listed!.id, 2)).toMatchObject({ version: 2, document: { cases: ["a", "b"] } });
    expect(await store.caseSetVersion(listed!.id, 4)).toBeNull();
  });

  it("are one however many import them at once, whatever the order of their members", async () => {
    const documents = Array.from({ length: 8 }, (_, at) => (at % 2 ? { a: 1, b: 2 } : { b: 2, a: 1 }));
    const outcomes = await Promise.all(
      documents.map((document) => store.importCaseSet({ operationId, name: "at once", document }, acting)),
    );
    expect(outcomes.filter(({ outcome }) => outcome === "newVersion")).toHaveLength(1);
    expect(new Set(outcomes.map(({ caseSet }) => `${caseSet.id} ${caseSet.version}`)).size).toBe(1);
  });

  it("of the same name belong to their operations", async () => {
    const other = (await store.importOperation(smallOperation({ settings: { name: "another" } }), acting)).operation.id;
    const mine = await store.importCaseSet(set("same name", []), acting);
    const theirs = await store.importCaseSet({ ...set("same name", []), operationId: other }, acting);
    expect(theirs.caseSet.id).not.toBe(mine.caseSet.id);
    expect((await store.caseSetsOf(other)).map(({ id }) => id)).toEqual([theirs.caseSet.id]);
  });
});

describe("a study", () => {
  it("goes from queued through running to done, its parts in any order, and tells how far it is", async () => {
    const { id, study, keys } = await newStudy(4);
    expect(study).toMatchObject({ status: "queued", result: null, startedAt: null });
    expect(study.progress).toEqual({ parts: 4, ended: 0, failed: 0, share: 0 });
    expect(await unfinishedOf(id)).toEqual([0, 1, 2, 3]);

    expect(await store.startPart(keys[2]!)).toMatchObject({
      status: "go",
      partAsk: { number: 2 },
      input: { kind: "cases", ask: { seeds: [1] }, cases: null, plan: null },
    });
    expect(await store.reportPart(keys[2]!, 1, 0.5)).toBe("goOn");
    expect((await read(id)).progress).toEqual({ parts: 4, ended: 0, failed: 0, share: 0.125 });
    expect(await store.finishPart(keys[2]!, done("two"))).toBe(true);
    expect(await read(id)).toMatchObject({ status: "running", progress: { ended: 1, share: 0.25 } });
    expect(await unfinishedOf(id)).toEqual([0, 1, 3]);
    expect(await store.studyToConclude(id)).toBeNull();

    const failure = { kind: "crashed", message: "a bug" } as const;
    for (const part of [3, 0]) await store.startPart(keys[part]!);
    await store.finishPart(keys[3]!, { status: "failed", failure });
    await store.finishPart(keys[0]!, done("zero"));
    await store.startPart(keys[1]!);
    await store.finishPart(keys[1]!, done("one"));
    expect((await store.studyToConclude(id))!.parts).toEqual([
      { ask: { number: 0 }, status: "done", result: "zero" },
      { ask: { number: 1 }, status: "done", result: "one" },
      { ask: { number: 2 }, status: "done", result: "two" },
      { ask: { number: 3 }, status: "failed", failure },
    ]);
    expect(await store.studiesToConclude()).toContain(id);
    expect(await store.concludeStudy(id, done({ best: "one" }))).toBe(true);
    const ended = await read(id);
    expect(ended).toMatchObject({
      status: "done",
      result: { best: "one" },
      progress: { ended: 4, failed: 1, share: 1 },
    });
    expect(ended.endedAt).not.toBeNull();
    expect(await store.studiesToConclude()).not.toContain(id);
    const { result: _, ...summary } = ended;
    expect(await store.studiesOf(operationId)).toContainEqual(summary);
  });

  it("keeps the first of several results of a part, also when they come at once", async () => {
    const { id, first } = await newStudy(1);
    await store.startPart(first);
    expect(await store.startPart(first)).toEqual({ status: "busy" });
    await silenceWorkers(database.databaseUrl);
    expect(await store.startPart(first)).toMatchObject({ status: "go", start: 2 });
    expect(await store.reportPart(first, 1, 0.5)).toBe("overtaken");
    const results = ["a", "b", "c", "d"];
    const kept = await Promise.all(results.map((result) => store.finishPart(first, done(result))));
    expect(kept.filter(Boolean)).toHaveLength(1);
    expect(await store.finishPart(first, { status: "cancelled" })).toBe(false);
    const [part] = (await store.studyToConclude(id))!.parts;
    expect(part).toMatchObject({ status: "done", result: results[kept.indexOf(true)] });
    expect(await store.startPart(first)).toEqual({ status: "skip" });
  });

  it("keeps the first of several conclusions, and is then not to be cancelled", async () => {
    const { id, first } = await newStudy(1);
    await store.startPart(first);
    await store.finishPart(first, done(1));
    const kept = await Promise.all(["a", "b", "c"].map((result) => store.concludeStudy(id, done(result))));
    expect(kept.filter(Boolean)).toHaveLength(1);
    const failure = { kind: "conclusionFailed", message: "late", part: null } as const;
    expect(await store.concludeStudy(id, { status: "failed", failure })).toBe(false);
    expect((await store.cancelStudy(id, acting))!.study.status).toBe("done");
    expect((await read(id)).result).toBe(["a", "b", "c"][kept.indexOf(true)]);
  });

  it("of many parts that end at the same moment is there to be concluded by whoever ends last", async () => {
    const { id, keys } = await newStudy(12);
    const last = await Promise.all(
      keys.map(async (key) => {
        await store.startPart(key);
        await store.finishPart(key, done(key.part));
        return (await store.studyToConclude(id)) !== null;
      }),
    );
    expect(last.some(Boolean)).toBe(true);
    expect((await read(id)).progress).toMatchObject({ ended: 12, share: 1 });
  });

  it("that waits is cancelled at once, and none of its parts is ever started", async () => {
    const { id, first } = await newStudy(2);
    const cancelling = { ...acting, action: "cancelStudy" };
    for (let times = 0; times < 2; times++) {
      const cancelled = await store.cancelStudy(id, cancelling);
      expect(cancelled).toMatchObject({ study: { status: "cancelled", result: null }, running: [] });
    }
    const { entries } = await store.auditTrail({ action: "cancelStudy", limit: 10 });
    expect(entries.map(({ thingId }) => thingId)).toEqual([id]);
    expect(await store.startPart(first)).toEqual({ status: "skip" });
    expect(await unfinishedOf(id)).toEqual([]);
    expect(await store.studyToConclude(id)).toBeNull();
    expect(await store.cancelStudy(randomUUID(), acting)).toBeNull();
  });

  it("that runs is cancelled when those of its parts that run have been stopped", async () => {
    const { id, keys } = await newStudy(4);
    await store.startPart(keys[0]!);
    await store.finishPart(keys[0]!, done(0));
    await store.startPart(keys[1]!);
    await store.startPart(keys[2]!);
    const { study, running } = (await store.cancelStudy(id, acting))!;
    expect(study.status).toBe("running");
    expect(running).toEqual([keys[1], keys[2]]);
    expect(await store.reportPart(keys[1]!, 1, 0.9)).toBe("cancelled");
    await store.finishPart(keys[1]!, { status: "cancelled" });
    expect((await read(id)).status).toBe("running");
    // Its worker is dead: it is handed out again.
    await silenceWorkers(database.databaseUrl);
    expect(await store.startPart(keys[2]!)).toEqual({ status: "skip" });
    expect(await read(id)).toMatchObject({ status: "cancelled", result: null });
    expect(await store.concludeStudy(id, done("late"))).toBe(false);
  });

  it(`loses a part that was started ${startsMax} times without an end; a clean shutdown does not count`, async () => {
    const { id, first } = await newStudy(1);
    for (let shutdown = 0; shutdown < startsMax; shutdown++) {
      await store.startPart(first);
      await store.returnPart(first, { start: 1, startCounts: false, alone: true });
    }
    for (let start = 1; start <= startsMax; start++) {
      expect(await store.startPart(first)).toMatchObject({ status: "go", start, alone: true });
      await silenceWorkers(database.databaseUrl);
    }
    expect(await store.startPart(first)).toEqual({ status: "skip" });
    expect((await store.studyToConclude(id))!.parts).toMatchObject([
      { status: "failed", failure: { kind: "startedTooOften" } },
    ]);
  });

  it("stands on the version of operation and cases that it was made with", async () => {
    const set = { operationId, name: "stands on it", document: { cases: ["before"] } };
    const { caseSet } = await store.importCaseSet(set, acting);
    const { id } = await madeBy(
      store.addStudy(
        {
          kind: "cases",
          operationId,
          version: 1,
          caseSet,
          ask: {},
          parts: [{}],
        },
        acting,
      ),
    );
    await store.importCaseSet({ ...set, document: { cases: ["after"] } }, acting);
    const start = await store.startPart({ studyId: id, part: 0 });
    expect(start).toMatchObject({ status: "go", input: { cases: { cases: ["before"] } } });
    const { document } = (await store.operationVersion(operationId, 1))!;
    expect(start.status === "go" && start.input.operation).toEqual(document);
  });

  it("calls back whoever watches it", async () => {
    const { id, first } = await newStudy(1);
    let calls = 0;
    const stop = store.watch(id, () => calls++);
    await eventually(() => (calls > 0 ? true : null));
    for (const change of [
      () => store.startPart(first),
      () => store.reportPart(first, 1, 0.5),
      () => store.finishPart(first, done(1)),
      () => store.concludeStudy(id, done(2)),
    ]) {
      const before = calls;
      await change();
      await eventually(() => (calls > before ? true : null), 1_000);
    }
    stop();
  });

  it("is one of many: batches take turns, the oldest first, all of them behind what somebody waits for; newest first in the list", async () => {
    const studies: Study[] = [];
    for (let count = 0; count < 3; count++) studies.push((await newStudy(2)).study);
    const ids = studies.map(({ id }) => id);
    const waiting = (await store.unfinishedParts(100_000)).filter(({ studyId }) => ids.includes(studyId));
    expect(waiting.map(({ studyId, part }) => [studyId, part])).toEqual(
      [0, 1].flatMap((part) => ids.map((id) => [id, part])),
    );
    const plan = await madeBy(
      store.addStudy({ kind: "remedies", operationId, version: 1, ask: {}, parts: [{}] }, acting),
    );
    expect(await store.unfinishedParts(1)).toEqual([{ studyId: plan.id, part: 0, turn: 0 }]);
    await store.cancelStudy(plan.id, acting);
    const listed = (await store.studiesOf(operationId)).map(({ id }) => id).filter((id) => ids.includes(id));
    expect(listed).toEqual(ids.toReversed());
  });
});
