import { distanceToShapeM } from "../../geo/distance.ts";
import type { Facts, Stop } from "./facts.ts";
import { type Ledger, type RuleName, shown } from "./report.ts";
import type { Step } from "./sky.ts";
import type { KeptPlace, Terrain } from "./terrain.ts";

/** How much nearer than its buffer a block may come to a place before it counts as near, DEVELOPERS.md, `driftNear`. */
const nearSlackM = 0.5;

/** The wind of all steps of a work against the places that it may not blow towards. */
export function checkDrift(facts: Facts, ledger: Ledger, terrain: Terrain, stop: Stop, touched: readonly Step[]): void {
  const { mix } = stop;
  for (const kept of terrain.keptPlaces(mix, "stopsField")) {
    checkTowards(facts, ledger, terrain, stop, "drift", kept, kept.fieldM, touched);
  }
  const spared = terrain.keptPlaces(mix, "sparesPart");
  const area = terrain.block(mix, stop.block);
  if (area.length === 0) return;
  for (const kept of spared) {
    const blockM = distanceToShapeM(area, kept.shape);
    if (blockM < kept.keptM - nearSlackM) {
      checkTowards(facts, ledger, terrain, stop, "driftNear", kept, blockM, touched);
    }
  }
}

function checkTowards(
  facts: Facts,
  ledger: Ledger,
  terrain: Terrain,
  stop: Stop,
  rule: RuleName,
  kept: KeptPlace,
  awayM: number,
  touched: readonly Step[],
): void {
  const { driftAngleDeg } = facts.operation.settings.limits;
  for (const { step, fromMin } of touched) {
    const angleDeg = terrain.offWindDeg(stop.mix, kept, step.windFromDeg);
    ledger.expect(rule, angleDeg > driftAngleDeg, stop.subject, () => ({
      sentence: `from ${facts.calendar.isoOfMin(fromMin)} the wind blows within ${shown(angleDeg)} degrees of ${kept.place.properties.name}, ${shown(awayM)} m away; ${shown(kept.keptM)} m are kept`,
      actual: angleDeg,
      allowed: driftAngleDeg,
    }));
  }
}
