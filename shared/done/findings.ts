import { createCalendar } from "../model/calendar.ts";
import { hectares, readable } from "../plan/words.ts";
import type { Recorded } from "./recorded.ts";

/** Our choice, as in the progress of a stop: ground is measured a little otherwise than on the map. */
const areaTolerance = 0.02;
/** Our choice: amounts come in whole measures of a can. */
const rateTolerance = 0.01;

export const clockFinding = "The phone's clock was wrong when this was reported: see that date and times are right.";

/** What in a record an applicator has to look at: nothing that was measured or used outside what is allowed is hidden. */
export function findingsOf(record: Recorded): string[] {
  const { again, blockHa, blockId, crop, date, measured, products, state, timeZone, treatedHa } = record;
  const findings: string[] = [];
  if (state === "withdrawn") findings.push("The crew has withdrawn its reports of this application.");
  if (again) findings.push("Another crew had reported the same ground as finished: it may have been treated twice.");
  if (record.clockDoubtful) findings.push(clockFinding);
  if (treatedHa > blockHa * (1 + areaTolerance)) {
    findings.push(`${hectares(treatedHa)} ha are recorded, and block ${blockId} has ${hectares(blockHa)} ha.`);
  }
  for (const { name, ordered, labelRates, ratePerHa, unit } of products) {
    if (!ordered) findings.push(`${name} was used and not ordered.`);
    if (labelRates === null) {
      findings.push(`It is not known that the label of ${name} allows it on ${crop}.`);
    } else if (ratePerHa !== null) {
      const isOver = ratePerHa > labelRates.mostPerHa * (1 + rateTolerance);
      const isUnder = ratePerHa < labelRates.leastPerHa * (1 - rateTolerance);
      const span = `${readable(labelRates.leastPerHa)} to ${readable(labelRates.mostPerHa)}`;
      if (isOver || isUnder) {
        findings.push(`${readable(ratePerHa)} ${unit}/ha of ${name} were used; the label allows ${span} ${unit}/ha.`);
      }
    }
  }
  if (measured.length === 0) findings.push("No conditions were measured on site.");
  const calendar = createCalendar({ timeZone, firstDay: date, days: 1 });
  for (const { at, limits } of measured) {
    const clock = calendar.clockOfMin(calendar.minOfInstant(at));
    for (const { allowed, bound, holds, measure, measured: value, setBy, unit } of limits) {
      if (holds) continue;
      const told = `${measure} of ${readable(value)} ${unit} was measured`;
      findings.push(`At ${clock} ${told}; at ${bound} ${readable(allowed)} ${unit} is allowed by ${setBy}.`);
    }
  }
  return findings;
}
