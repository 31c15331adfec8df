import { plainChain } from "./plain.ts";
import type { DayRun, RouteProblem, State } from "./routes.ts";
import { setSlotCents } from "./slotCents.ts";
import { lastStart, lastStartIn, windowFrom } from "./windows.ts";

/** Cost of so many minutes of duty in a slot. */
export function dutyCents(routes: RouteProblem, slot: number, dutyMin: number): number {
  const over = dutyMin - routes.standardMin[slot]!;
  return dutyMin * routes.wageCentsPerMin[slot]! + (over > 0 ? over * routes.overtimeCentsPerMin[slot]! : 0);
}

export function lateCents(routes: RouteProblem, block: number, day: number): number {
  const days = day - routes.preferredDay[block]!;
  return days > 0 ? days * routes.lateCentsPerDay[block]! : 0;
}

/**
 * Work out anew, for a slot's stops as they stand, how early and how late the crew may be at each, so that one more stop is judged without going through the others
 * (Savelsbergh 1992, "The Vehicle Routing Problem with Time Windows: Minimizing Route Duration", for the least duty). With `run` its times are taken, which all rules
 * of the day made; what may come after a stop is then an outside limit, at best minutes. Without it the stops' own times and cost are worked out too; false when they
 * do not hold.
 */
export function chain(state: State, slot: number, run: DayRun | null): boolean {
  if (state.plain !== null) return plainChain(state, state.plain, slot);
  const { routes } = state;
  const { stride, travelMin, travelKm, placeCount } = routes;
  const count = state.count[slot]!;
  const held = slot * stride;
  const day = routes.dayOfSlot[slot]!;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  const { setupMin, packupMin } = profile;
  const start = state.startPlace[slot]!;
  const end = state.endPlace[slot]!;
  const toMin = routes.toMin[slot]!;

  let timeMin = routes.fromMin[slot]!;
  let busyMin = 0;
  let leaveBy = Number.POSITIVE_INFINITY;
  let place = start;
  let km = 0;
  let workMin = 0;
  let load = 0;
  let late = 0;
  for (let i = 0; i < count; i++) {
    const block = state.sequence[held + i]!;
    const to = profile.place[block]!;
    const minutes = profile.minutes[block]!;
    let wayKm = 0;
    if (to !== place) {
      const on = place * placeCount + to;
      const moveMin = travelMin[on]! + setupMin + (i === 0 ? 0 : packupMin);
      busyMin += moveMin;
      timeMin += moveMin;
      wayKm = travelKm[on]!;
      km += wayKm;
      place = to;
    }
    state.wayKm[held + i] = wayKm;
    state.placeAt[held + i] = to;
    state.busyAt[held + i] = busyMin;
    busyMin += minutes;
    const variant = profile.variant[block]!;
    const w = windowFrom(routes, variant, day, run === null ? timeMin : run.starts[i]!, minutes);
    if (w >= 0) leaveBy = Math.min(leaveBy, lastStartIn(routes, w, minutes) + minutes - busyMin);
    state.leaveBy[held + i] = leaveBy;
    if (run === null) {
      if (w < 0) return false;
      const open = routes.windowTimes[w]!;
      const startMin = Math.max(timeMin, open);
      state.startMin[block] = startMin;
      timeMin = startMin + minutes;
      state.endMin[block] = timeMin;
      workMin += minutes;
      load += routes.load[block]!;
      late += lateCents(routes, block, day);
    } else {
      timeMin = run.earliest[i]!;
      state.startMin[block] = run.starts[i]!;
      state.endMin[block] = run.ends[i]!;
    }
    state.endAt[held + i] = timeMin;
  }
  let homeKm = 0;
  if (place !== end) {
    const home = place * placeCount + end;
    const moveMin = travelMin[home]! + packupMin;
    busyMin += moveMin;
    timeMin += moveMin;
    homeKm = travelKm[home]!;
    km += homeKm;
  }
  state.wayKm[held + count] = homeKm;
  if (run === null && (timeMin > toMin || load > profile.capacity)) return false;
  state.busyAt[held + count] = busyMin;
  goBack(state, slot, busyMin);

  if (run === null) {
    const leaveMin = Math.min(leaveBy, toMin - busyMin, timeMin - busyMin);
    if (timeMin - leaveMin > routes.dutyMaxMin[slot]!) return false;
    state.leaveMin[slot] = leaveMin;
    state.backMin[slot] = timeMin;
    state.slotLoad[slot] = load;
    setSlotCents(
      state,
      slot,
      profile.fixedCents +
        km * profile.centsPerKm +
        workMin * profile.centsPerWorkMin +
        (routes.hoursCount ? dutyCents(routes, slot, timeMin - leaveMin) : 0) +
        late,
    );
  } else {
    state.leaveMin[slot] = run.leaveMin;
    state.backMin[slot] = run.backMin;
    setSlotCents(state, slot, run.cents);
  }
  return true;
}

/** From the end of the day backwards. */
function goBack(state: State, slot: number, busyMin: number): void {
  const { routes } = state;
  const { travelMin, placeCount } = routes;
  const held = slot * routes.stride;
  const day = routes.dayOfSlot[slot]!;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  const { setupMin, packupMin } = profile;
  const end = state.endPlace[slot]!;
  let next = end;
  let latestMin = routes.toMin[slot]!;
  let backFrom = Number.NEGATIVE_INFINITY;
  const count = state.count[slot]!;
  state.latestAt[held + count] = latestMin;
  state.backFrom[held + count] = backFrom;
  for (let i = count - 1; i >= 0; i--) {
    const block = state.sequence[held + i]!;
    const place = state.placeAt[held + i]!;
    if (place !== next) {
      latestMin -= travelMin[place * placeCount + next]! + packupMin + (i === count - 1 ? 0 : setupMin);
    }
    const minutes = profile.minutes[block]!;
    latestMin = lastStart(routes, profile.variant[block]!, day, latestMin, minutes);
    state.latestAt[held + i] = latestMin;
    if (routes.hoursCount) {
      const w = windowFrom(routes, profile.variant[block]!, day, state.startMin[block]!, minutes);
      if (w >= 0) backFrom = Math.max(backFrom, routes.windowTimes[w]! + busyMin - state.busyAt[held + i]!);
    }
    state.backFrom[held + i] = backFrom;
    next = place;
  }
}
