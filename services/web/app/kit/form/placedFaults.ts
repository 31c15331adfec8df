import type { Fault } from "../../../../../shared/contracts/problem.ts";
import type { Path } from "../../../../../shared/model/faults.ts";

export interface PlacedFaults {
  /** Of the thing that was sent, by their places in it. */
  readonly within: readonly Fault[];
  /** Of other things that what was sent does not go with. */
  readonly elsewhere: readonly Fault[];
}

/** The server tells faults by their places in the whole operation; `at` is where the thing stands there, or would. */
export function placeFaults(faults: readonly Fault[], at: Path): PlacedFaults {
  const isWithin = ({ path }: Fault) => at.every((step, depth) => path[depth] === step);
  return {
    within: faults.filter(isWithin).map((fault) => ({ ...fault, path: fault.path.slice(at.length) })),
    elsewhere: faults.filter((fault) => !isWithin(fault)),
  };
}

/** What is said at one field: of itself, and of all that lies in it when it shows nothing of its inside. */
export function faultsAt(faults: readonly Fault[], path: Path, isLeaf: boolean): readonly Fault[] {
  return faults.filter(
    (fault) => path.every((step, depth) => fault.path[depth] === step) && (isLeaf || fault.path.length === path.length),
  );
}
