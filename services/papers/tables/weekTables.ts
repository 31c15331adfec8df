import { sumOf } from "../../../shared/plan/totals.ts";
import type { WeekView } from "../../../shared/plan/weekView.ts";
import { type Cell, csvText } from "./csv.ts";

const rounded = (value: number, digits: number) => Number(value.toFixed(digits));
const hours = (minutes: number) => rounded(minutes / 60, 2);

/** One row for every stop, by crew and time. */
function stops({ crews }: WeekView): string {
  const rows = crews.flatMap((crew) =>
    crew.days.flatMap(({ crewDay, date }) =>
      (crewDay?.stops ?? []).map((stop, at): Cell[] => [
        crew.id,
        crew.name,
        date,
        at + 1,
        stop.orderId,
        stop.part,
        stop.parts,
        stop.fieldId,
        stop.fieldName,
        stop.grower,
        stop.method,
        stop.products.join(" + "),
        stop.start.iso,
        stop.end.iso,
        sumOf(stop.pauses, (pause) => pause.minutes),
        rounded(stop.areaHa, 3),
        stop.aircraft,
      ]),
    ),
  );
  const heads = [
    ...["crew_id", "crew", "date", "stop", "order_id", "part", "parts", "field_id", "field", "grower", "method"],
    ...["products", "start", "end", "pause_min", "area_ha", "aircraft"],
  ];
  return csvText(heads, rows);
}

/** One row for every order, with what becomes of it. */
function orders(view: WeekView): string {
  const rows = view.orders.map((order): Cell[] => [
    order.id,
    order.fieldId,
    order.fieldName,
    order.grower,
    order.crop,
    order.products.join(" + "),
    order.priority,
    order.latest,
    order.status,
    rounded(order.areaHa, 3),
    rounded(order.plannedHa, 3),
    order.work[0]?.start.iso ?? null,
    order.work.at(-1)?.end.iso ?? null,
    [...new Set(order.work.map(({ crewName }) => crewName))].join(" + "),
    order.conflicts.map(({ sentence }) => sentence).join(" | "),
  ]);
  const heads = [
    ...["order_id", "field_id", "field", "grower", "crop", "products", "priority", "latest", "status"],
    ...["area_ha", "planned_ha", "first_start", "last_end", "crews", "why_not"],
  ];
  return csvText(heads, rows);
}

function conflicts(view: WeekView): string {
  const rows = view.conflicts.map(
    ({ orderId, fieldName, grower, priority, kind, areaHa, kindWords, sentence }): Cell[] => [
      ...[orderId, fieldName, grower, priority, kind],
      rounded(areaHa, 3),
      kindWords,
      sentence,
    ],
  );
  return csvText(["order_id", "field", "grower", "priority", "kind", "area_ha", "what", "why"], rows);
}

/** One row for every crew and day on which it goes out. */
function crewDays({ crews }: WeekView): string {
  const rows = crews.flatMap((crew) =>
    crew.days.flatMap(({ crewDay, date }): Cell[][] =>
      crewDay === null
        ? []
        : [
            [
              ...[crew.id, crew.name, date, crewDay.leave.iso, crewDay.back.iso],
              crewDay.stops.length,
              rounded(crewDay.areaHa, 3),
              hours(crewDay.dutyMin),
              hours(crewDay.workMin),
              rounded(crewDay.roadKm, 1),
              crewDay.outfit,
              crewDay.sleepsAt,
            ],
          ],
    ),
  );
  const heads = [
    ...[
      "crew_id",
      "crew",
      "date",
      "leave",
      "back",
      "stops",
      "area_ha",
      "duty_h",
      "work_h",
      "road_km",
      "outfit",
      "sleeps_at",
    ],
  ];
  return csvText(heads, rows);
}

/** The tables of a week, by the name in their address. */
export const weekTables = { stops, orders, conflicts, "crew-days": crewDays } as const;
export type WeekTableName = keyof typeof weekTables;
export const weekTableNames = Object.keys(weekTables) as WeekTableName[];
