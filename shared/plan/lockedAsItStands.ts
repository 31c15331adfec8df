import type { Calendar } from "../model/calendar.ts";
import { type Lock, lockSchema } from "../model/locks.ts";
import type { CrewDay, Plan } from "./plan.ts";
import { found, indexBy, worksOf } from "./totals.ts";

/** The lock that keeps a crew-day of a plan as it stands: its outfit, its stops at their minutes and in their order, and nothing else. */
export function lockedAsItStands(calendar: Calendar, { blocks }: Pick<Plan, "blocks">, crewDay: CrewDay): Lock {
  const blockOf = indexBy(blocks, ({ id }) => id);
  const { crewId, date, outfit } = crewDay;
  return lockSchema.parse({
    crewId,
    date,
    // Bays follow from chargers and sets, so a lock does not name them.
    outfit: {
      ...outfit,
      batterySets: outfit.batterySets.map(({ aircraftTypeId, sets }) => ({ aircraftTypeId, sets })),
    },
    stops: worksOf(crewDay).map(({ blockId, startMin }) => {
      const { orderId, part, parts } = found(blockOf, blockId);
      return { orderId, part, parts, startAt: calendar.isoOfMin(startMin).slice(0, "2027-06-07T05:30".length) };
    }),
    inOrder: true,
    nothingElse: true,
  });
}
