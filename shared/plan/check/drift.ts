import { distanceToShapeM } from "../../geo/distance.ts";
import type { Facts, Stop } from "./facts.ts";
import { type Finding, type Ledger, type RuleName, shown } from "./report.ts";
import type { Step } from "./sky.ts";
import type { KeptPlace, Terrain } from "./terrain.ts";

/** How much nearer than its buffer a block may come to a place before it counts as near, DEVELOPERS.md, `driftNear`. */
const nearSlackM = 0.5;

/** The wind of all steps of a stretch of work against the places that it may not blow towards. */
export function checkDrift(facts: Facts, ledger: Ledger, terrain: Terrain, stop: Stop, touched: readonly Step[]): void {
  const { mix } = stop;
  for (const kept of terrain.keptPlaces(mix, "stopsField")) {
    checkTowards(facts, ledger, terrain, stop, "drift", kept, kept.fieldM, touched);
  }
  const area = terrain.block(mix, stop.block);
  if (area.length === 0 || !terrain.hasNearGround(mix)) return;
  for (const kept of terrain.keptPlaces(mix, "sparesPart")) {
    const blockM = distanceToShapeM(area, kept.shape);
    if (blockM < kept.keptM - nearSlackM) {
      checkTowards(facts, ledger, terrain, stop, "driftNear", kept, blockM, touched);
    }
  }
}

/** The place is one that the field is nearer to than the buffer's distance. */
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
  const { driftAngleDeg, windVariableBelowKph } = facts.operation.settings.limits;
  const where = `${kept.place.properties.name}, ${shown(awayM)} m away; ${shown(kept.keptM)} m are kept`;
  for (const { step, fromMin } of touched) {
    const from = facts.calendar.isoOfMin(fromMin);
    // Too weak to have a direction to trust.
    const isVariable = step.windKph < windVariableBelowKph;
    const angleDeg = terrain.offWindDeg(stop.mix, kept, step.windFromDeg);
    const variable = (): Finding => ({
      sentence: `from ${from} a wind of ${shown(step.windKph)} km/h may blow any way, also towards ${where}`,
      actual: step.windKph,
      allowed: windVariableBelowKph,
    });
    const towards = (): Finding => ({
      sentence: `from ${from} the wind blows within ${shown(angleDeg)} degrees of ${where}`,
      actual: angleDeg,
      allowed: driftAngleDeg,
    });
    const holds = !isVariable && angleDeg > driftAngleDeg;
    ledger.expect(rule, holds, stop.subject, isVariable ? variable : towards);
  }
}
