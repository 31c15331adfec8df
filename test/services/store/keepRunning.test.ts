import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { keepRunning } from "../../../services/store/embedded/keepRunning.ts";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** A server that ends when it is told to. */
function fake() {
  let end = () => {};
  const died = new Promise<void>((resolve) => {
    end = resolve;
  });
  return { server: { databaseUrl: "postgres://here", died, stop: vi.fn(async () => undefined) }, end: () => end() };
}

it("a server that cannot be started again is given up, after longer and longer pauses", async () => {
  const first = fake();
  const triedMs: number[] = [];
  const began = performance.now();
  const again = () => {
    triedMs.push(performance.now() - began);
    return Promise.reject(new Error("no room"));
  };
  const said: string[] = [];
  const kept = keepRunning(first.server, again, (what) => said.push(what));
  let died = false;
  kept.died.then(() => {
    died = true;
  });
  first.end();
  await vi.advanceTimersByTimeAsync(500_000);
  expect(died).toBe(false);
  await vi.advanceTimersByTimeAsync(100_000);
  // 250 ms, then twice as long each time, half a minute at most: 24 of them.
  expect(triedMs.slice(0, 9)).toEqual([250, 750, 1750, 3750, 7750, 15750, 31750, 61750, 91750]);
  expect(triedMs).toHaveLength(24);
  expect(died).toBe(true);
  expect(said).toContain("no room");
});

it("one that runs well for a while may end again as often as the first time", async () => {
  let ends = 0;
  let current = fake();
  const kept = keepRunning(
    current.server,
    async () => {
      current = fake();
      return current.server;
    },
    () => undefined,
  );
  let died = false;
  kept.died.then(() => {
    died = true;
  });
  for (; ends < 30; ends++) {
    await vi.advanceTimersByTimeAsync(61_000);
    current.end();
    await vi.advanceTimersByTimeAsync(1_000);
  }
  expect(died).toBe(false);
  await kept.stop();
  expect(current.server.stop).toHaveBeenCalledTimes(1);
});

it("one that is stopped is not started again", async () => {
  const first = fake();
  const again = vi.fn(async () => fake().server);
  const kept = keepRunning(first.server, again, () => undefined);
  first.end();
  await vi.advanceTimersByTimeAsync(10);
  const stopped = kept.stop();
  await vi.advanceTimersByTimeAsync(10_000);
  await stopped;
  expect(again).not.toHaveBeenCalled();
});
