import type { State } from "../../../services/solver/routes.ts";
import { mostWays, type Tables, type Ways } from "./tripWays.ts";

/** What a block adds at each place of a slot that is better than those before it, exactly: over all trips that it could be part of, and all ways to do the stops before and after them. */
export function bestPlaces(
  tables: Tables,
  release: Float64Array,
  state: State,
  slot: number,
  block: number,
  sequence: Int32Array,
  count: number,
  done: Ways,
  toDo: Ways,
  promised: Float64Array,
): number {
  const { routes, place, minutes, fromMin, untilMin, capacity } = tables;
  const { travelMin: way, placeCount, load: loadOf } = routes;
  if (count + 2 > routes.stride) return -1;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  const base = routes.startPlace[slot]! * placeCount;
  const row = place[block]! * placeCount;
  let best = -1;
  let bestKm = Number.POSITIVE_INFINITY;
  for (let at = 0; at <= count; at++) {
    let leastKm = bestKm;
    // The trip's stops up to the block, from place `first` on.
    let busy = minutes[block]!;
    let soonest = fromMin[block]! + busy;
    let startBy = untilMin[block]!;
    let km = 0;
    let load = loadOf[block]!;
    let releaseMin = release[block]!;
    for (let first = at; first >= 0 && load <= capacity; first--) {
      if (first < at) {
        const before = sequence[first]!;
        const next = first + 1 === at ? block : sequence[first + 1]!;
        const there = way[place[before]! * placeCount + place[next]!]!;
        const own = minutes[before]!;
        load += loadOf[before]!;
        if (load > capacity || fromMin[before]! + own + there > startBy) break;
        soonest = Math.max(fromMin[before]! + own + there + busy, soonest);
        startBy = Math.min(untilMin[before]!, startBy - there - own);
        busy += there + own;
        km += there;
        releaseMin = Math.max(releaseMin, release[before]!);
      }
      const known = done.count[first]!;
      if (known === 0) continue;
      const firstHeld = first * mostWays;
      const out = way[base + place[first === at ? block : sequence[first]!]!]!;
      let tripBusy = busy;
      let tripSoonest = soonest;
      let tripStartBy = startBy;
      let tripKm = km + out;
      let tripLoad = load;
      let tripRelease = releaseMin;
      for (let end = at; end <= count; end++) {
        if (end > at) {
          const after = sequence[end - 1]!;
          const there =
            end - 1 === at ? way[row + place[after]!]! : way[place[sequence[end - 2]!]! * placeCount + place[after]!]!;
          tripLoad += loadOf[after]!;
          if (tripLoad > capacity || tripSoonest + there > untilMin[after]!) break;
          tripStartBy = Math.min(tripStartBy, untilMin[after]! - there - tripBusy);
          tripBusy += there + minutes[after]!;
          tripSoonest = Math.max(tripSoonest + there, fromMin[after]!) + minutes[after]!;
          tripKm += there;
          tripRelease = Math.max(tripRelease, release[after]!);
        }
        const back = way[base + place[end === at ? block : sequence[end - 1]!]!]!;
        if (done.leastKm[first]! + tripKm + back + toDo.leastKm[end]! >= bestKm) continue;
        const endHeld = end * mostWays;
        for (let i = firstHeld; i < firstHeld + known; i++) {
          const startMin = Math.max(done.min[i]!, tripRelease) + out;
          const soFar = done.km[i]! + tripKm + back;
          if (startMin > tripStartBy || soFar >= leastKm) continue;
          const backMin = Math.max(startMin + tripBusy, tripSoonest) + back;
          for (let j = endHeld; j < endHeld + toDo.count[end]!; j++) {
            if (backMin <= toDo.min[j]! && soFar + toDo.km[j]! < leastKm) leastKm = soFar + toDo.km[j]!;
          }
        }
      }
    }
    promised[at] = Number.POSITIVE_INFINITY;
    if (leastKm >= bestKm) continue;
    promised[at] = profile.fixedCents + leastKm * profile.centsPerKm - state.slotCents[slot]!;
    bestKm = leastKm;
    best = at;
  }
  return best;
}
