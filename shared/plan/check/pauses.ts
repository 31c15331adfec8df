import type { Facts, Stop } from "./facts.ts";
import type { Ledger } from "./report.ts";

/** The rules about works that pause: where pauses may lie, how long they and the stretches between them are. */
export function checkPauses(facts: Facts, ledger: Ledger): void {
  for (const stop of facts.stops) {
    checkPlaces(ledger, stop);
    checkLengths(facts, ledger, stop);
  }
}

/** Something is worked before the first pause, between two of them and after the last. */
function checkPlaces(ledger: Ledger, { block, subject, work }: Stop): void {
  let workedFromMin = work.startMin;
  for (const { startMin, endMin } of work.pauses ?? []) {
    const holds = workedFromMin < startMin && startMin < endMin && endMin < work.endMin;
    ledger.expect("pauses", holds, subject, () => ({
      sentence: `block ${block.id} pauses from minute ${startMin} to ${endMin}, its work goes on from minute ${workedFromMin} and ends at ${work.endMin}`,
      actual: `${startMin} to ${endMin}`,
      allowed: `between ${workedFromMin} and ${work.endMin}`,
    }));
    workedFromMin = endMin;
  }
}

function checkLengths({ operation }: Facts, ledger: Ledger, { block, subject, stretches, work }: Stop): void {
  const { pauseMaxMin, stretchMinMin } = operation.settings.planning;
  const { pauses = [] } = work;
  for (const { startMin, endMin } of pauses) {
    const minutes = endMin - startMin;
    ledger.expect("pauseLength", minutes <= pauseMaxMin, subject, () => ({
      sentence: `block ${block.id} pauses for ${minutes} min, ${pauseMaxMin === 0 ? "work never pauses" : `at most ${pauseMaxMin} min are allowed`}`,
      actual: minutes,
      allowed: pauseMaxMin,
    }));
  }
  for (const { fromMin, toMin } of pauses.length === 0 ? [] : stretches) {
    ledger.expect("stretchLength", toMin - fromMin >= stretchMinMin, subject, () => ({
      sentence: `block ${block.id} is worked for ${toMin - fromMin} min at a stretch, at least ${stretchMinMin} min are wanted`,
      actual: toMin - fromMin,
      allowed: stretchMinMin,
    }));
  }
}
