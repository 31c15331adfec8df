import type { Agronomy, NightWork } from "../../../shared/agronomy/agronomy.ts";
import type { Calendar } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";

/** What every answer about windows is found by. */
export interface Question {
  readonly operation: Operation;
  readonly calendar: Calendar;
  readonly agronomy: Agronomy;
  readonly types: readonly AircraftType[];
  readonly night: { readonly night: boolean };
  readonly json: boolean;
}

/** One kind of aircraft on ground that has windows of its own. */
export interface Case {
  readonly type: AircraftType;
  readonly part: "whole" | "near" | "rest";
  readonly areaHa: number;
  readonly night: NightWork;
  /** What stops it at every minute, in sentences. */
  readonly never: readonly string[];
}

export function casesOf({ agronomy, types, night }: Question, order: Order): Case[] {
  const byOrder = agronomy.orderLimits(order);
  return types.flatMap((type) => {
    const never = [...byOrder, ...agronomy.typeLimits(order, type)].map(({ sentence }) => sentence);
    return agronomy.parts(order).map(({ part, areaHa }) => ({
      type,
      part,
      areaHa,
      night: part === "rest" ? { ...night, rest: true as const } : night,
      never,
    }));
  });
}

export function nothingLeftWords({ agronomy }: Question, order: Order): string {
  return `buffers leave nothing of its ${agronomy.treatedArea(order).fieldHa.toFixed(2)} ha`;
}

const partWords = { whole: "", near: ", the part near to a place downwind", rest: ", the rest of the field" } as const;

export function caseWords(typeIds: readonly string[], { part, areaHa }: Case): string {
  return `by ${typeIds.join(", ")}${partWords[part]}${part === "whole" ? "" : ` (${areaHa.toFixed(2)} ha)`}`;
}
