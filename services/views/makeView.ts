import { calmViewSchema } from "../../shared/contracts/calm.ts";
import { dayMapSchema, weekMapSchema } from "../../shared/contracts/maps.ts";
import { crewDayListSchema, publishedMapSchema, publishedSheetSchema } from "../../shared/contracts/plans.ts";
import { crewSheetSchema, weekViewSchema } from "../../shared/contracts/views.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import { calmHours } from "../../shared/plan/calmHours.ts";
import { caution } from "../../shared/plan/caution.ts";
import { crewSheet } from "../../shared/plan/crewSheet.ts";
import { dayMap } from "../../shared/plan/dayMap.ts";
import { crewDayTotals, indexBy } from "../../shared/plan/totals.ts";
import { weekMap } from "../../shared/plan/weekMap.ts";
import { weekView } from "../../shared/plan/weekView.ts";
import type { MadeView, Viewed, Wanted, WantedPaper, WantedView } from "./wanted.ts";

/** Null where the plan has nothing of the kind. */
export async function makeView(viewed: Viewed, wanted: Wanted): Promise<MadeView | null> {
  switch (wanted.kind) {
    case "week":
    case "weekMap":
    case "sheet":
    case "dayMap":
    case "days":
    case "calm": {
      const body = bodyOf(viewed, wanted);
      return body && { bytes: Buffer.from(JSON.stringify(body)), fileName: null };
    }
    default: {
      // What draws papers is read when the first is asked for.
      const { paperFile } = await import("./paperFiles.ts");
      return paperFile(viewed, wanted);
    }
  }
}

type WantedBody = WantedView | Extract<WantedPaper, { kind: "calm" }>;

/** What passes the schema of the route that asks for it. */
function bodyOf({ operation, plan, report }: Viewed, wanted: WantedBody): object | null {
  switch (wanted.kind) {
    case "week":
      return weekViewSchema.parse(weekView(operation, plan, report));
    case "weekMap":
      return weekMapSchema.parse(weekMap(operation, plan));
    case "calm":
      return calmViewSchema.parse({ caution, ...calmHours(operation, plan) });
    case "sheet": {
      const { crewId, date, publication } = wanted;
      const sheet = crewSheet(operation, plan, crewId, date);
      if (sheet === null) return null;
      return publication === null ? crewSheetSchema.parse(sheet) : publishedSheetSchema.parse({ publication, sheet });
    }
    case "dayMap": {
      const { crewId, date, publication } = wanted;
      const map = dayMap(operation, plan, crewId, date);
      if (map === null) return null;
      return publication === null ? dayMapSchema.parse(map) : publishedMapSchema.parse({ publication, map });
    }
    case "days":
      return daysOf({ operation, plan }, wanted);
  }
}

function daysOf(
  { operation, plan }: Pick<Viewed, "operation" | "plan">,
  { crewId, publication }: Extract<Wanted, { kind: "days" }>,
): object | null {
  if (!operation.fleet.crews.some(({ id }) => id === crewId)) return null;
  const calendar = createCalendar(operation.settings);
  const blocks = indexBy(plan.blocks, ({ id }) => id);
  const days = plan.crewDays
    .filter((crewDay) => crewDay.crewId === crewId)
    .map((crewDay) => {
      const { startMin, endMin, stops, areaHa } = crewDayTotals(crewDay, blocks);
      return {
        date: crewDay.date,
        leave: calendar.isoOfMin(startMin),
        back: calendar.isoOfMin(endMin),
        stops,
        areaHa,
      };
    })
    .sort((a, b) => (a.date < b.date ? -1 : 1));
  return crewDayListSchema.parse({ publication, days });
}
