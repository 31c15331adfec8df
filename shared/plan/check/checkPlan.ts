import type { Operation } from "../../model/operation.ts";
import type { Plan } from "../plan.ts";
import { checkBecause } from "./becauseRules.ts";
import { checkBetweenOrders } from "./betweenOrders.ts";
import { checkCalendarLimits } from "./calendarLimits.ts";
import { checkDayPower } from "./dayPower.ts";
import { checkDayWalks } from "./dayWalk.ts";
import { gatherFacts } from "./facts.ts";
import { checkGround } from "./groundRules.ts";
import { checkHours } from "./hours.ts";
import { checkIdentity } from "./identity.ts";
import { checkLocks } from "./locked.ts";
import { checkNights } from "./nightRules.ts";
import { checkOrderLimits } from "./orderLimits.ts";
import { checkOutfits } from "./outfit.ts";
import { checkPauses } from "./pauses.ts";
import { checkPlanFrom } from "./planFrom.ts";
import { checkProof } from "./proofRules.ts";
import { type CheckReport, Ledger } from "./report.ts";
import { checkScore } from "./scoreRules.ts";
import { createSky } from "./sky.ts";
import { createTerrain } from "./terrain.ts";
import { checkWeatherLimits } from "./weatherLimits.ts";
import { checkWhatIsPlanned } from "./whatIsPlanned.ts";
import { checkWorkBounds } from "./workBounds.ts";

/**
 * The independent judge: every rule of DEVELOPERS.md, recomputed from the operation and the plan alone. It knows nothing of
 * how plans are made; an unknown id is a breach and what hangs on it is left unexamined.
 */
export function checkPlan(operation: Operation, plan: Plan): CheckReport {
  const ledger = new Ledger();
  const facts = gatherFacts(operation, plan);
  const terrain = createTerrain(facts);
  const sky = createSky(facts, terrain);

  checkIdentity(facts, ledger);
  checkCalendarLimits(facts, ledger, sky);
  checkWeatherLimits(facts, ledger, sky, terrain);
  checkOrderLimits(facts, ledger);
  checkGround(facts, ledger, terrain);
  checkWorkBounds(facts, ledger, terrain);
  checkDayPower(facts, ledger);
  checkPauses(facts, ledger);
  checkOutfits(facts, ledger);
  checkHours(facts, ledger);
  checkNights(facts, ledger);
  checkDayWalks(facts, ledger);
  checkBetweenOrders(facts, ledger);
  checkWhatIsPlanned(facts, ledger, terrain);
  checkBecause(facts, ledger);
  checkLocks(facts, ledger);
  checkPlanFrom(facts, ledger);
  checkScore(facts, ledger, terrain);
  checkProof(facts, ledger);
  return ledger.report();
}
