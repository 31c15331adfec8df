import type { Operation } from "../../../shared/model/operation.ts";

/** How a work fits its windows: begun from openMin to lastMin, done so many minutes later, pauses included. */
export interface Way {
  readonly openMin: number;
  readonly lastMin: number;
  readonly lengthMin: number;
  readonly pauses: number;
}

/**
 * Ways of work of so many minutes, by the windows in which it begins and ends; times count from the beginning of a shift of `span` minutes, windows are those from `first` to
 * before `last`. Where the last stretch would be too short, the work takes longer in truth than here.
 */
export function waysOf(
  { pauseMaxMin, stretchMinMin, resumeMin }: Operation["settings"]["planning"],
  windowTimes: Float64Array,
  first: number,
  last: number,
  fromMin: number,
  span: number,
  workMin: number,
): Way[] {
  const ways: Way[] = [];
  for (let w = first; w < last; w += 2) {
    // A later begin asks for one pause more.
    let openMin = Math.max(0, windowTimes[w]! - fromMin);
    let lengthMin = workMin;
    let latestMin = windowTimes[w + 1]! - fromMin - workMin;
    let pauses = 0;
    for (let at = w; ; ) {
      const lastMin = Math.min(latestMin, windowTimes[at + 1]! - fromMin - lengthMin, span - 1 - lengthMin);
      if (openMin <= lastMin) ways.push({ openMin, lastMin, lengthMin, pauses });
      openMin = Math.max(openMin, lastMin + 1);
      let next = at + 2;
      // Windows too short for a stretch are passed over.
      while (next < last && windowTimes[next + 1]! - windowTimes[next]! < stretchMinMin) next += 2;
      if (pauseMaxMin === 0 || next >= last || windowTimes[next]! - windowTimes[at + 1]! > pauseMaxMin) break;
      latestMin = windowTimes[w + 1]! - fromMin - stretchMinMin;
      if (openMin > latestMin) break;
      lengthMin += windowTimes[next]! - windowTimes[at + 1]! + resumeMin;
      pauses++;
      at = next;
    }
  }
  return ways;
}
