import type { RouteProblem, State } from "../../../../services/solver/routes.ts";

/**
 * Cost of a slot's stops by walking them one after the other, for every whole minute at which the crew could leave; infinite where no minute will do. Of two days the
 * cheaper counts, so the least duty is found by trying. Shares nothing with the search but the problem.
 */
export function evaluateSlot(
  problem: RouteProblem,
  slot: number,
  profileIndex: number,
  stops: readonly number[],
): number {
  if (stops.length === 0) return 0;
  const profile = problem.profiles[profileIndex]!;
  const minutesOf = (block: number) => {
    const known = profile.minutes[block]!;
    return known < 0 ? problem.ask(profileIndex, block) : known;
  };
  const load = stops.reduce((sum, block) => sum + problem.load[block]!, 0);
  if (stops.length + 1 > problem.stride || load > profile.capacity) return Number.POSITIVE_INFINITY;
  if (stops.some((block) => minutesOf(block) === 0)) return Number.POSITIVE_INFINITY;

  const day = problem.dayOfSlot[slot]!;
  let cents = profile.fixedCents;
  let place = problem.startPlace[slot]!;
  for (const block of stops) {
    cents += problem.travelKm[place * problem.placeCount + profile.place[block]!]! * profile.centsPerKm;
    cents += minutesOf(block) * profile.centsPerWorkMin;
    cents += Math.max(0, day - problem.preferredDay[block]!) * problem.lateCentsPerDay[block]!;
    place = profile.place[block]!;
  }
  cents += problem.travelKm[place * problem.placeCount + problem.endPlace[slot]!]! * profile.centsPerKm;

  let leastDutyCents = Number.POSITIVE_INFINITY;
  for (let leaveMin = problem.fromMin[slot]!; leaveMin < problem.toMin[slot]!; leaveMin++) {
    const backMin = backAfter(problem, slot, profileIndex, stops, leaveMin);
    if (backMin > problem.toMin[slot]!) break;
    const dutyMin = backMin - leaveMin;
    if (dutyMin > problem.dutyMaxMin[slot]!) continue;
    const overMin = Math.max(0, dutyMin - problem.standardMin[slot]!);
    leastDutyCents = Math.min(
      leastDutyCents,
      dutyMin * problem.wageCentsPerMin[slot]! + overMin * problem.overtimeCentsPerMin[slot]!,
    );
    if (!problem.hoursCount) break;
  }
  return cents + leastDutyCents;
}

/** When the crew is back, every stop begun as soon as it is there and a window holds the whole work; infinite when none does. */
function backAfter(
  problem: RouteProblem,
  slot: number,
  profileIndex: number,
  stops: readonly number[],
  leaveMin: number,
): number {
  const { setupMin, packupMin, minutes, place: placeOf, variant } = problem.profiles[profileIndex]!;
  const travel = (from: number, to: number) => problem.travelMin[from * problem.placeCount + to]!;
  let place = problem.startPlace[slot]!;
  let timeMin = leaveMin;
  stops.forEach((block, at) => {
    const to = placeOf[block]!;
    if (to !== place) timeMin += (at > 0 ? packupMin : 0) + travel(place, to) + setupMin;
    place = to;
    const onDay = variant[block]! * problem.days + problem.dayOfSlot[slot]!;
    let startMin = Number.POSITIVE_INFINITY;
    for (let w = problem.windowFirst[onDay]!; w < problem.windowLast[onDay]!; w += 2) {
      const couldMin = Math.max(timeMin, problem.windowTimes[w]!);
      if (couldMin + minutes[block]! <= problem.windowTimes[w + 1]!) startMin = Math.min(startMin, couldMin);
    }
    timeMin = startMin + minutes[block]!;
  });
  const end = problem.endPlace[slot]!;
  return place === end ? timeMin : timeMin + packupMin + travel(place, end);
}

export function stopsOf({ routes, sequence, count }: State, slot: number): number[] {
  return Array.from(sequence.subarray(slot * routes.stride, slot * routes.stride + count[slot]!));
}

/** Everything that a state costs, from its stops and outfits alone. */
export function evaluateState(state: State): number {
  const { routes } = state;
  const planned = new Set<number>();
  let cents = state.pool.changeCents();
  for (let slot = 0; slot < routes.slotCount; slot++) {
    const stops = stopsOf(state, slot);
    if (stops.length > 0) cents += evaluateSlot(routes, slot, state.outfit[slot]!.profile, stops);
    for (const block of stops) planned.add(block);
  }
  routes.valueCents.forEach((value, block) => {
    if (!planned.has(block)) cents += value;
  });
  return cents;
}
