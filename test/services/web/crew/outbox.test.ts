import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import fc from "fast-check";
import { beforeEach, describe, expect, it } from "vitest";
import { NoAnswer, Refusal } from "../../../../services/web/app/api/call.ts";
import { forgetOthers, keep, keptIn, keyOf } from "../../../../services/web/app/offline/keptDays.ts";
import {
  type CrewDayKey,
  countUnsent,
  entriesIn,
  putIn,
  setState,
  throwAwayOld,
} from "../../../../services/web/app/offline/outbox.ts";
import { openPhoneStore, type PhoneStore } from "../../../../services/web/app/offline/phoneStore.ts";
import { type SendReports, sendWaiting } from "../../../../services/web/app/offline/sendWaiting.ts";
import type { WorkReport } from "../../../../shared/done/workReport.ts";
import { uuid } from "../../../support/workReports.ts";

const monday = { operationId: "op", crewId: "K1", date: "2027-06-14" };
const tuesday = { ...monday, date: "2027-06-15" };
const otherCrew = { ...monday, crewId: "K2" };
const all = () => true;

const arrived = (number: number) =>
  ({
    kind: "arrived",
    id: uuid(number),
    publication: 1,
    at: new Date(Date.UTC(2027, 5, 14, 4, 0, number)).toISOString(),
    blockId: "O-1#1",
  }) as WorkReport;

let factory: IDBFactory;
let store: PhoneStore;
beforeEach(async () => {
  factory = new IDBFactory();
  store = await openPhoneStore(factory);
});

const make = (day: CrewDayKey, ...numbers: readonly number[]) =>
  putIn(
    store,
    day,
    numbers.map((number) => ({ report: arrived(number), ground: null })),
    1_000,
  );

/** A server that knows reports by their ids, as ours does, and whose line may break before it has heard a call or after. */
function server(line: () => "good" | "cutBefore" | "cutAfter" = () => "good", refused: readonly string[] = []) {
  const came: string[] = [];
  const send: SendReports = async (_day, reports) => {
    const how = line();
    if (how === "cutBefore") throw new NoAnswer();
    const outcomes = reports.map(({ id }) => {
      if (refused.includes(id)) return { id, outcome: "refused" as const, why: "no such stop" };
      if (came.includes(id)) return { id, outcome: "known" as const, why: null };
      came.push(id);
      return { id, outcome: "stored" as const, why: null };
    });
    if (how === "cutAfter") throw new NoAnswer();
    return outcomes;
  };
  return { came, send };
}

describe("the outbox", () => {
  it("keeps reports in the order in which they were made, also when the page is closed and opened", async () => {
    await make(monday, 3, 1);
    await make(tuesday, 2);
    store.close();
    store = await openPhoneStore(factory);
    expect((await entriesIn(store)).map(({ date, id }) => [date, id])).toEqual([
      [monday.date, uuid(3)],
      [monday.date, uuid(1)],
      [tuesday.date, uuid(2)],
    ]);
  });

  it("keeps a report once: the same id again is not written, nor what was made with it", async () => {
    await make(monday, 1);
    await expect(make(monday, 2, 1)).rejects.toThrow();
    expect((await entriesIn(store)).map(({ id }) => id)).toEqual([uuid(1)]);
  });

  it("sends everything in order, a crew-day at a time", async () => {
    await make(monday, 1, 2);
    await make(tuesday, 3);
    await make(monday, 4);
    const days: string[] = [];
    const { came, send } = server();
    await sendWaiting(
      store,
      (day, reports) => {
        days.push(day.date);
        return send(day, reports);
      },
      all,
    );
    expect(days).toEqual([monday.date, tuesday.date, monday.date]);
    expect(came).toEqual([1, 2, 3, 4].map(uuid));
    expect(await countUnsent(store)).toBe(0);
  });

  it("loses and doubles nothing, wherever the line breaks", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom("good", "cutBefore", "cutAfter"), { maxLength: 12 }),
        fc.integer({ min: 1, max: 60 }),
        async (breaks, count) => {
          const here = await openPhoneStore(new IDBFactory());
          const numbers = Array.from({ length: count }, (_, number) => number);
          for (const number of numbers) {
            await putIn(here, monday, [{ report: arrived(number), ground: null }], 0);
          }
          const left = [...breaks];
          const { came, send } = server(() => left.shift() ?? "good");
          for (let tries = 0; tries <= breaks.length; tries++)
            await sendWaiting(here, send, all).catch(() => undefined);
          expect(came).toEqual(numbers.map(uuid));
          expect(await countUnsent(here)).toBe(0);
          here.close();
        },
      ),
      { numRuns: 25, seed: 8 },
    );
  });

  it("keeps what was refused with the reason, sends the rest, and sends it again only when somebody says so", async () => {
    await make(monday, 1, 2, 3);
    const { came, send } = server(undefined, [uuid(2)]);
    await sendWaiting(store, send, all);
    expect(came).toEqual([uuid(1), uuid(3)]);
    const [, refused] = await entriesIn(store);
    expect(refused).toMatchObject({ state: "refused", why: "no such stop" });
    expect(await countUnsent(store)).toBe(1);
    await sendWaiting(store, send, all);
    expect(came).toHaveLength(2);

    const later = server();
    await setState(store, refused!, "waiting");
    await sendWaiting(store, later.send, all);
    expect(later.came).toEqual([uuid(2)]);
  });

  it("marks a batch as refused when the call as a whole is no good, and waits when it may go later", async () => {
    await make(monday, 1, 2);
    for (const status of [401, 403, 429, 500, 503]) {
      const fail: SendReports = () => Promise.reject(new Refusal(status, { title: "No" }));
      await expect(sendWaiting(store, fail, all)).rejects.toThrow("No");
      expect((await entriesIn(store)).map(({ state }) => state)).toEqual(["waiting", "waiting"]);
    }
    await sendWaiting(store, () => Promise.reject(new Refusal(404, { title: "Gone" })), all);
    expect((await entriesIn(store)).map(({ state, why }) => [state, why])).toEqual([
      ["refused", "Gone"],
      ["refused", "Gone"],
    ]);
  });

  it("does not believe an answer about other reports than it has sent", async () => {
    await make(monday, 1, 2);
    await expect(
      sendWaiting(store, async () => [{ id: uuid(1), outcome: "stored", why: null }], all),
    ).rejects.toThrow();
    expect(await countUnsent(store)).toBe(2);
  });

  it("lets reports of another crew wait for somebody of it", async () => {
    await make(otherCrew, 1);
    await make(monday, 2);
    const { came, send } = server();
    await sendWaiting(store, send, ({ crewId }) => crewId === "K1");
    expect(came).toEqual([uuid(2)]);
    expect(await countUnsent(store)).toBe(1);
  });

  it("throws away only what the server has or somebody has put away", async () => {
    await make(monday, 1, 2, 3, 4);
    const { send } = server(undefined, [uuid(2), uuid(3)]);
    await sendWaiting(store, send, all);
    const entries = await entriesIn(store);
    await setState(store, entries[2]!, "putAway");
    await setState(store, { ...entries[3]!, state: "waiting" }, "waiting");
    await throwAwayOld(store, 1_000 + 7 * 24 * 3600_000);
    expect(await entriesIn(store)).toHaveLength(4);
    await throwAwayOld(store, 1_000 + 9 * 24 * 3600_000);
    expect((await entriesIn(store)).map(({ id, state }) => [id, state])).toEqual([
      [uuid(2), "refused"],
      [uuid(4), "waiting"],
    ]);
  });
});

describe("what is kept of days", () => {
  it("is forgotten when somebody of another crew signs in; reports that wait are not", async () => {
    await keep(store, monday, keyOf(monday, "days"), "mine", 5);
    await keep(store, otherCrew, keyOf(otherCrew, "days"), "another's", 5);
    await make(otherCrew, 1);
    await forgetOthers(store, [{ operationId: "op", crewId: "K1" }]);
    expect((await keptIn(store, keyOf(monday, "days")))?.value).toBe("mine");
    expect(await keptIn(store, keyOf(otherCrew, "days"))).toBeUndefined();
    await forgetOthers(store, []);
    expect(await keptIn(store, keyOf(monday, "days"))).toBeUndefined();
    expect(await countUnsent(store)).toBe(1);
  });
});
