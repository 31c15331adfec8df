import { isDeepStrictEqual } from "node:util";
import { describe, expect, it } from "vitest";
import { createInsertions, insertionCents } from "../../../../services/solver/insertion.ts";
import { copySlots, createShelf, putBack } from "../../../../services/solver/shelf.ts";
import { stopsOf } from "./evaluateSlot.ts";
import { createWorld, moveAtRandom, promisesOf, type World } from "./randomMoves.ts";
import { randomRoutes, type Shape } from "./randomRoutes.ts";
import { snapshot } from "./snapshot.ts";

const problems = 120;
const movesPerProblem = 60;
const shapes: Shape[] = [
  { windowsADay: 1, hours: true, roads: "plane" },
  { windowsADay: 3, hours: false, roads: "any" },
];
const worlds = shapes.flatMap((shape, index) =>
  Array.from({ length: problems }, (_, problem) => {
    const seed = 50_000 + 1000 * index + problem;
    return { seed, routes: randomRoutes(seed, shape) };
  }),
);

function randomWorlds(visit: (world: World, seed: number) => void): void {
  for (const { seed, routes } of worlds) visit(createWorld(routes, seed), seed);
}

describe("the shelf", () => {
  it("puts everything back exactly, pools and sums too", () => {
    let compared = 0;
    let changed = 0;
    randomWorlds((world, seed) => {
      let kept = snapshot(world.state);
      for (let move = 0; move < movesPerProblem; move++) {
        const before = snapshot(world.state);
        const { kind } = moveAtRandom(world);
        if (kind === "keep") kept = snapshot(world.state);
        if (kind !== "putBack") continue;
        compared++;
        if (!isDeepStrictEqual(before, kept)) changed++;
        if (!isDeepStrictEqual(snapshot(world.state), kept))
          expect(snapshot(world.state), `problem ${seed}`).toEqual(kept);
      }
    });
    expect(compared).toBeGreaterThan(500);
    expect(changed).toBeGreaterThan(300);
  });

  it("brings a whole state back, as for the best", () => {
    randomWorlds((world, seed) => {
      const { state } = world;
      const everySlot = Array.from({ length: state.routes.slotCount }, (_, slot) => slot);
      const best = createShelf(state);
      for (let move = 0; move < movesPerProblem; move++) moveAtRandom(world);
      copySlots(state, best, everySlot);
      const kept = snapshot(state);
      for (let move = 0; move < movesPerProblem; move++) moveAtRandom(world);
      putBack(state, best, everySlot);
      if (!isDeepStrictEqual(snapshot(state), kept)) expect(snapshot(state), `problem ${seed}`).toEqual(kept);
    });
  });
});

describe("versions", () => {
  it("name one order of stops, outfit and times each, and come back with them", () => {
    let cameBack = 0;
    randomWorlds((world, seed) => {
      const { state } = world;
      const held = new Map<string, string>();
      for (let move = 0; move < movesPerProblem; move++) {
        const { kind } = moveAtRandom(world);
        for (let slot = 0; slot < state.routes.slotCount; slot++) {
          const stops = stopsOf(state, slot);
          const times = stops.map((block) => `${block} ${state.startMin[block]} ${state.endMin[block]}`);
          const content = [state.outfit[slot]?.profile, ...times].join();
          const name = `${slot} ${state.version[slot]}`;
          const known = held.get(name);
          if (known !== undefined && known !== content) expect(content, `problem ${seed}, version ${name}`).toBe(known);
          if (known !== undefined && kind === "putBack") cameBack++;
          held.set(name, content);
        }
      }
    });
    expect(cameBack).toBeGreaterThan(500);
  });

  it("keep remembered insertions true", () => {
    let remembered = 0;
    let ofPutBack = 0;
    const faults: string[] = [];
    randomWorlds((world, seed) => {
      const { state } = world;
      const { slotCount, blockCount } = state.routes;
      const insertions = createInsertions(state.routes);
      for (let move = 0; move < movesPerProblem; move++) {
        const { kind } = moveAtRandom(world);
        for (let draw = 0; draw < 15; draw++) {
          const block = Math.floor(world.random() * blockCount);
          const slot = Math.floor(world.random() * slotCount);
          if (state.slotOf[block]! >= 0 || state.outfit[slot] === null) continue;
          if (insertions.version[block * slotCount + slot] === state.version[slot]) {
            remembered++;
            if (kind === "putBack") ofPutBack++;
          }
          const cents = insertionCents(state, insertions, block, slot);
          const { best } = promisesOf(state, block, slot);
          if (cents !== best.cents || insertions.place[block * slotCount + slot] !== best.place) {
            faults.push(`problem ${seed}, ${kind}: ${cents} remembered, ${best.cents} now`);
          }
        }
      }
    });
    expect(faults.slice(0, 5)).toEqual([]);
    expect(remembered).toBeGreaterThan(5000);
    expect(ofPutBack).toBeGreaterThan(300);
  });
});
