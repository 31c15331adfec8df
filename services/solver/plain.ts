import type { Plain, RouteProblem, State } from "./routes.ts";
import { setSlotCents } from "./slotCents.ts";
import { lastStartIn } from "./windows.ts";

/** For sums of real distances, so that what was promised holds; whole numbers never come this near to each other. */
const rounding = 1e-6;

/** Null where the problem is not plain. */
export function plainOf(routes: RouteProblem): Plain | null {
  const { profiles, blockCount, windowFirst, windowLast, windowTimes, travelMin, travelKm } = routes;
  const [first] = profiles;
  const isFree = routes.wageCentsPerMin.every((wage) => wage === 0) && routes.overtimeCentsPerMin.every((o) => o === 0);
  const isOneRoad = travelMin === travelKm && travelMin === routes.comingMin && travelMin === routes.comingKm;
  if (
    routes.createRules !== null ||
    routes.nights.length > 0 ||
    routes.days !== 1 ||
    first === undefined ||
    !isFree ||
    !isOneRoad
  )
    return null;
  const fromMin = new Float64Array(blockCount);
  const untilMin = new Float64Array(blockCount);
  for (let block = 0; block < blockCount; block++) {
    const variant = first.variant[block]!;
    const w = windowFirst[variant]!;
    const minutes = first.minutes[block]!;
    if (windowLast[variant]! - w !== 2 || minutes <= 0 || routes.lateCentsPerDay[block] !== 0) return null;
    fromMin[block] = windowTimes[w]!;
    untilMin[block] = lastStartIn(routes, w, minutes);
    const isAlike = profiles.every(
      (one) =>
        one.place[block] === first.place[block] && one.minutes[block] === minutes && one.variant[block] === variant,
    );
    if (!isAlike) return null;
  }
  if (profiles.some(({ setupMin, packupMin }) => setupMin !== 0 || packupMin !== 0)) return null;
  return { way: travelMin, place: first.place, minutes: first.minutes, fromMin, untilMin };
}

/** Where a block costs least in a slot with an outfit, or -1; what it then adds is left in `found[0]`. */
export function plainPlace(state: State, plain: Plain, found: Float64Array, block: number, slot: number): number {
  const { routes, placeAt, endAt, latestAt, wayKm } = state;
  const count = state.count[slot]!;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  found[0] = Number.POSITIVE_INFINITY;
  if (count + 2 > routes.stride || state.slotLoad[slot]! + routes.load[block]! > profile.capacity) return -1;
  const { way } = plain;
  const held = slot * routes.stride;
  const row = plain.place[block]! * routes.placeCount;
  const minutes = plain.minutes[block]!;
  const fromMin = plain.fromMin[block]!;
  const untilMin = plain.untilMin[block]!;
  const soonestMin = fromMin + minutes;
  const end = routes.endPlace[slot]!;
  const { hoursCount } = routes;

  let best = -1;
  let bestKm = Number.POSITIVE_INFINITY;
  let inWay = way[row + routes.startPlace[slot]!]!;
  let doneMin = routes.fromMin[slot]!;
  for (let at = 0; at <= count; at++) {
    const on = held + at;
    // Later places only come later.
    if (doneMin > untilMin) break;
    const outWay = way[row + (at === count ? end : placeAt[on]!)]!;
    const km = inWay + outWay - wayKm[on]!;
    const latestMin = latestAt[on]!;
    if (km < bestKm && soonestMin <= latestMin) {
      const readyMin = doneMin + inWay;
      const startMin = Math.max(readyMin, fromMin);
      if (
        startMin <= untilMin &&
        startMin + minutes + outWay <= latestMin &&
        (!hoursCount || holdsDuty(state, plain, slot, at, minutes, inWay, outWay, startMin, untilMin))
      ) {
        bestKm = km;
        best = at;
      }
    }
    inWay = outWay;
    doneMin = endAt[on]!;
  }
  if (best >= 0) {
    found[0] = bestKm * profile.centsPerKm + minutes * profile.centsPerWorkMin + (count === 0 ? profile.fixedCents : 0);
  }
  return best;
}

/** Whether the least duty with one more stop is not too long. */
function holdsDuty(
  state: State,
  { minutes }: Plain,
  slot: number,
  at: number,
  ownMin: number,
  inWay: number,
  outWay: number,
  startMin: number,
  untilMin: number,
): boolean {
  const { routes, busyAt } = state;
  const held = slot * routes.stride;
  const on = held + at;
  const ownBusy = (at === 0 ? 0 : busyAt[on - 1]! + minutes[state.sequence[on - 1]!]!) + inWay;
  const nextBusy = ownBusy + ownMin + outWay;
  const restMin = busyAt[held + state.count[slot]!]! - busyAt[on]!;
  const backMin = Math.max(startMin + ownMin + outWay + restMin, state.backFrom[on]!);
  const leaveMin = Math.min(
    at === 0 ? Number.POSITIVE_INFINITY : state.leaveBy[on - 1]!,
    untilMin - ownBusy,
    state.latestAt[on]! - nextBusy,
    backMin - nextBusy - restMin,
  );
  return backMin - leaveMin <= routes.dutyMaxMin[slot]!;
}

/** The chains of `chains.ts` for a plain problem, with times and cost; false when the stops do not hold. */
export function plainChain(state: State, plain: Plain, slot: number): boolean {
  const { routes } = state;
  const { way, place: placeOf, minutes: minutesOf, fromMin, untilMin } = plain;
  const { placeCount, load: loadOf, hoursCount } = routes;
  const count = state.count[slot]!;
  const held = slot * routes.stride;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  const { sequence, placeAt, wayKm, endAt, latestAt, startMin, endMin } = state;
  let timeMin = routes.fromMin[slot]!;
  let place = routes.startPlace[slot]!;
  let km = 0;
  let workMin = 0;
  let load = 0;
  for (let on = held; on < held + count; on++) {
    const block = sequence[on]!;
    const to = placeOf[block]!;
    const wayThere = way[place * placeCount + to]!;
    const minutes = minutesOf[block]!;
    place = to;
    km += wayThere;
    timeMin += wayThere;
    if (timeMin > untilMin[block]! + rounding) return false;
    if (timeMin < fromMin[block]!) timeMin = fromMin[block]!;
    startMin[block] = timeMin;
    timeMin += minutes;
    workMin += minutes;
    load += loadOf[block]!;
    endMin[block] = timeMin;
    wayKm[on] = wayThere;
    placeAt[on] = to;
    endAt[on] = timeMin;
  }
  const home = way[place * placeCount + routes.endPlace[slot]!]!;
  const toMin = routes.toMin[slot]!;
  km += home;
  timeMin += home;
  wayKm[held + count] = home;
  if (timeMin > toMin + rounding || load > profile.capacity) return false;
  let latestMin = toMin;
  latestAt[held + count] = latestMin;
  for (let on = held + count - 1; on >= held; on--) {
    const block = sequence[on]!;
    latestMin -= wayKm[on + 1]! + minutesOf[block]!;
    if (latestMin > untilMin[block]!) latestMin = untilMin[block]!;
    latestAt[on] = latestMin;
  }
  state.backMin[slot] = timeMin;
  state.leaveMin[slot] = routes.fromMin[slot]!;
  if (hoursCount && !plainDuty(state, plain, slot)) return false;
  state.slotLoad[slot] = load;
  setSlotCents(state, slot, profile.fixedCents + km * profile.centsPerKm + workMin * profile.centsPerWorkMin);
  return true;
}

/** What is needed for the least duty; false when it is too long. */
function plainDuty(state: State, { minutes, fromMin, untilMin }: Plain, slot: number): boolean {
  const { routes, sequence, busyAt, backFrom } = state;
  const count = state.count[slot]!;
  const held = slot * routes.stride;
  const backMin = state.backMin[slot]!;
  let busyMin = 0;
  let leaveBy = Number.POSITIVE_INFINITY;
  for (let on = held; on < held + count; on++) {
    const block = sequence[on]!;
    busyMin += state.wayKm[on]!;
    busyAt[on] = busyMin;
    leaveBy = Math.min(leaveBy, untilMin[block]! - busyMin);
    state.leaveBy[on] = leaveBy;
    busyMin += minutes[block]!;
  }
  busyMin += state.wayKm[held + count]!;
  busyAt[held + count] = busyMin;
  let back = Number.NEGATIVE_INFINITY;
  backFrom[held + count] = back;
  for (let on = held + count - 1; on >= held; on--) {
    back = Math.max(back, fromMin[sequence[on]!]! + busyMin - busyAt[on]!);
    backFrom[on] = back;
  }
  const leaveMin = Math.min(leaveBy, routes.toMin[slot]! - busyMin, backMin - busyMin);
  state.leaveMin[slot] = leaveMin;
  return backMin - leaveMin <= routes.dutyMaxMin[slot]! + rounding;
}
