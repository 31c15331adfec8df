import { type Agronomy, createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { type Calendar, createCalendar } from "../../shared/model/calendar.ts";
import type { AircraftType } from "../../shared/model/fleet.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Order } from "../../shared/model/order.ts";
import { textTable } from "../../shared/plan/textTable.ts";
import { exitCodes, loadScenario, named, print, printJson } from "./output.ts";

export interface WindowsOptions {
  readonly order?: string;
  readonly type?: string;
  readonly night?: boolean;
  readonly json?: boolean;
}

export async function windowsVerb(dir: string, options: WindowsOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const night = { night: options.night === true };
  const types =
    options.type === undefined
      ? operation.fleet.aircraftTypes
      : [named(operation.fleet.aircraftTypes, "aircraft type", options.type)];
  if (options.order === undefined) return summary(operation, calendar, agronomy, types, night, options.json === true);

  const order = named(operation.orders, "order", options.order);
  const answers = types.map((type) => ({
    aircraftTypeId: type.id,
    never: [...agronomy.orderLimits(order), ...agronomy.typeLimits(order, type)],
    windows: agronomy.windows(order, type, night).windows.map(({ startMin, endMin }) => ({
      from: calendar.isoOfMin(startMin),
      to: calendar.isoOfMin(endMin),
    })),
    hours: agronomy.hours(order, type, night).map(({ startMin, openMin, judgements }) => ({
      from: calendar.isoOfMin(startMin),
      openMin,
      judgements,
    })),
  }));
  if (options.json) {
    printJson({ orderId: order.id, fieldId: order.fieldId, types: answers });
    return exitCodes.good;
  }
  for (const { aircraftTypeId, never, windows, hours } of answers) {
    print(`\n${order.id} on ${order.fieldId} by ${aircraftTypeId}`);
    if (never.length > 0) {
      print(`  never: ${never.map(({ sentence }) => sentence).join("; ")}`);
      continue;
    }
    print(
      windows.length === 0
        ? "  no window"
        : `  ${windows.map(({ from, to }) => `${stamp(from)} to ${stamp(to)}`).join("\n  ")}`,
    );
    for (const { from, openMin, judgements } of hours) {
      const open = openMin === 0 ? "" : openMin === 60 ? "open" : `open ${openMin} min`;
      print(`  ${stamp(from)}  ${open.padEnd(11)} ${judgements.map(({ sentence }) => sentence).join("; ")}`.trimEnd());
    }
  }
  return exitCodes.good;
}

function stamp(iso: string): string {
  return iso.slice(0, 16).replace("T", " ");
}

function summary(
  operation: Operation,
  calendar: Calendar,
  agronomy: Agronomy,
  types: readonly AircraftType[],
  night: { readonly night: boolean },
  json: boolean,
): number {
  const rows = operation.orders.map((order) => ({
    orderId: order.id,
    fieldId: order.fieldId,
    types: types.map((type) => openHours(calendar, agronomy, order, type, night)),
  }));
  if (json) {
    printJson(rows);
    return exitCodes.good;
  }
  print("Open hours of the plan's days, by order and aircraft type ('-' where it may never work the order)");
  const head = ["order", "field", ...types.map(({ id }) => id)];
  const body = rows.map(({ orderId, fieldId, types: cells }) => [
    orderId,
    fieldId,
    ...cells.map(({ never, hours }) => (never.length > 0 ? "-" : hours.toFixed(1))),
  ]);
  const right = head.map((_, column) => column).slice(2);
  for (const line of textTable([head, ...body], { indent: 0, right })) print(line);
  return exitCodes.good;
}

function openHours(
  calendar: Calendar,
  agronomy: Agronomy,
  order: Order,
  type: AircraftType,
  night: { readonly night: boolean },
) {
  const never = [...agronomy.orderLimits(order), ...agronomy.typeLimits(order, type)].map(({ limit }) => limit);
  const { windows } = agronomy.windows(order, type, night);
  const minutes = windows.reduce(
    (sum, { startMin, endMin }) => sum + Math.min(endMin, calendar.horizonMin) - Math.max(0, startMin),
    0,
  );
  return { aircraftTypeId: type.id, never, hours: never.length > 0 ? 0 : minutes / 60 };
}
