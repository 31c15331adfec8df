import fc from "fast-check";
import { expect, it } from "vitest";
import { firstTurn } from "../../../services/store/turns.ts";

interface Part {
  readonly batch: number;
  readonly turn: number;
  status: "queued" | "running" | "done";
  leftS: number;
}
interface Batch {
  readonly comesS: number;
  readonly parts: number;
}

/** Workers take the least turn that waits, of the same turn what came first, as the queue does. Tells after every begin who has begun how often, and who has parts waiting. */
function play(batches: readonly Batch[], workers: number, secondsOf: () => number) {
  const parts: Part[] = [];
  const begun = batches.map(() => 0);
  const moments: { begun: number[]; waiting: boolean[] }[] = [];
  const startOf: number[] = [];
  for (let timeS = 0; parts.some(({ status }) => status !== "done") || timeS <= batches.at(-1)!.comesS; timeS++) {
    for (const part of parts) if (part.status === "running" && --part.leftS <= 0) part.status = "done";
    batches.forEach(({ comesS, parts: count }, batch) => {
      if (comesS !== timeS) return;
      const turns = (status: Part["status"]) => parts.filter((part) => part.status === status).map(({ turn }) => turn);
      const [waiting, running] = [turns("queued"), turns("running")];
      const first = firstTurn({
        leastWaiting: waiting.length > 0 ? Math.min(...waiting) : null,
        mostRunning: running.length > 0 ? Math.max(...running) : null,
      });
      startOf[batch] = moments.length;
      for (let part = 0; part < count; part++) parts.push({ batch, turn: first + part, status: "queued", leftS: 0 });
    });
    while (parts.filter(({ status }) => status === "running").length < workers) {
      const waiting = parts.filter(({ status }) => status === "queued");
      if (waiting.length === 0) break;
      const next = waiting.reduce((least, part) => (part.turn < least.turn ? part : least));
      next.status = "running";
      next.leftS = secondsOf();
      begun[next.batch]!++;
      const isWaiting = (batch: number) => parts.some((part) => part.batch === batch && part.status === "queued");
      moments.push({ begun: [...begun], waiting: batches.map((_, batch) => isWaiting(batch)) });
    }
  }
  return { moments, parts, startOf };
}

/** From any moment to any later one, with parts of both waiting all the while. */
function greatestUnfairness(moments: ReturnType<typeof play>["moments"], one: number, other: number): number {
  let greatest = 0;
  let leads: number[] = [];
  for (const { begun, waiting } of moments) {
    if (!waiting[one] || !waiting[other]) {
      leads = [];
      continue;
    }
    leads.push(begun[one]! - begun[other]!);
    greatest = Math.max(greatest, Math.max(...leads) - Math.min(...leads));
  }
  return greatest;
}

const batch = fc.record({ comesS: fc.nat(60), parts: fc.integer({ min: 1, max: 60 }) });

it("batches share evenly while they have parts waiting, whenever they come and however large they are", () => {
  fc.assert(
    fc.property(
      fc.array(batch, { minLength: 2, maxLength: 4 }),
      fc.integer({ min: 1, max: 5 }),
      fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 20 }),
      (drawn, workers, seconds) => {
        const batches = drawn.toSorted((a, b) => a.comesS - b.comesS);
        let part = 0;
        const { moments, parts } = play(batches, workers, () => seconds[part++ % seconds.length]!);
        expect(parts.every(({ status }) => status === "done")).toBe(true);
        for (let one = 0; one < batches.length; one++) {
          for (let other = 0; other < one; other++) {
            // Goyal, Vin, Cheng 1996, theorem 1 (MEMORY): with weights and lengths 1 the work of two that wait differs by 1 + 1 at most.
            expect(greatestUnfairness(moments, one, other)).toBeLessThanOrEqual(2);
          }
        }
      },
    ),
    { numRuns: 300, seed: 7 },
  );
});

it("a batch of 50 that comes behind one of 5,000 is begun at once and ends after about twice its parts; the large one goes on meanwhile", () => {
  const { moments, startOf } = play(
    [
      { comesS: 0, parts: 5_000 },
      { comesS: 100, parts: 50 },
    ],
    2,
    () => 2,
  );
  const from = startOf[1]!;
  const first = moments.findIndex(({ begun }) => begun[1] === 1);
  const last = moments.findIndex(({ begun }) => begun[1] === 50);
  expect(first - from).toBeLessThanOrEqual(1);
  expect(last - from).toBeLessThanOrEqual(101);
  expect(moments[last]!.begun[0]! - moments[from]!.begun[0]!).toBeGreaterThanOrEqual(48);
});

it("turns begin anew when everything has been worked, so that they stay small", () => {
  expect(firstTurn({ leastWaiting: null, mostRunning: null })).toBe(1);
  expect(firstTurn({ leastWaiting: null, mostRunning: 41 })).toBe(41);
  expect(firstTurn({ leastWaiting: 12, mostRunning: 41 })).toBe(12);
});
