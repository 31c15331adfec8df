import { loadHighs } from "../../../services/linear/highs.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { solve } from "../../../services/solver/solve.ts";
import { compileInstance, toursOf } from "./compileInstance.ts";
import type { RoutingInstance } from "./instance.ts";
import { readInstance } from "./readInstance.ts";
import { type Objective, searchSettings } from "./settings.ts";
import { verify } from "./verify.ts";

export interface RunRequest {
  readonly path: string;
  /** Of this process, on all its threads; counted from the instance as read. */
  readonly seconds: number;
  readonly seed: number;
  readonly objective: Objective;
}

export interface RunOutcome {
  /** By the instance, not by the search; without what a vehicle costs where routes come first. */
  readonly cost: number;
  readonly routes: number;
  readonly faults: readonly string[];
  readonly iterationsPerS: number;
  /** Until everything that must be served was; undefined: never. */
  readonly firstFullMs: number | undefined;
}

/** The clock is looked at once in so many iterations. */
const iterationsPerLook = 32;

/** Solve one research instance and have the tours judged by the instance alone. */
export async function runInstance({ path, seconds, seed, objective }: RunRequest): Promise<RunOutcome> {
  const linear = await loadHighs();
  const instance = readInstance(path, objective);
  const startCpu = process.cpuUsage();
  const cpuMs = () => {
    const { user, system } = process.cpuUsage(startCpu);
    return (user + system) / 1000;
  };
  const toServe = instance.stops.some(({ prize }) => prize !== undefined) ? 0 : instance.stops.length;
  const routes = compileInstance(objective === "vehicles" ? withDearVehicles(instance) : instance);
  let share = 0;
  let firstFullMs: number | undefined;
  const { state, iterations } = solve(routes, {
    random: createRandom(seed),
    polish: polishWith(linear, seconds),
    settings: searchSettings(instance.family, objective),
    doneShare: (done) => {
      if (done % iterationsPerLook === 0) share = cpuMs() / (seconds * 1000);
      return share;
    },
    // Every stop counts as a hectare.
    onProgress: ({ servedHa }) => {
      if (servedHa >= toServe) firstFullMs ??= cpuMs();
    },
  });
  const iterationsPerS = (1000 * iterations) / cpuMs();
  const tours = toursOf(state);
  const { cost, faults } = verify(instance, tours);
  return { cost, routes: tours.length, faults, iterationsPerS, firstFullMs };
}

/** A vehicle costs more than going to every stop and back, so that no distance is worth another one. */
function withDearVehicles(instance: RoutingInstance): RoutingInstance {
  const { stops, distance, places } = instance;
  return {
    ...instance,
    vehicles: instance.vehicles.map((vehicle) => {
      const ways = stops.map(
        ({ place }) => distance[vehicle.startPlace * places + place]! + distance[place * places + vehicle.endPlace]!,
      );
      return { ...vehicle, fixedCost: vehicle.fixedCost + ways.reduce((sum, way) => sum + way, 0) };
    }),
  };
}
