import type { Agronomy, NightWork } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import type { Calendar } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";

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
  /** What stops it at every minute. */
  readonly limits: readonly Judgement[];
}

export function casesOf({ agronomy, types, night }: Question, order: Order): Case[] {
  const parts = agronomy.parts(order);
  const nothing = { part: "whole", areaHa: 0 } as const;
  return types.flatMap((type) => {
    const limits = limitsOf(agronomy, order, type);
    return (parts.length > 0 ? parts : [nothing]).map(({ part, areaHa }) => ({
      type,
      part,
      areaHa,
      night: part === "rest" ? { ...night, rest: true as const } : night,
      limits,
    }));
  });
}

/** What stops the order under a kind of aircraft at every minute. */
function limitsOf(agronomy: Agronomy, order: Order, type: AircraftType): Judgement[] {
  return [...agronomy.orderLimits(order), ...agronomy.typeLimits(order, type)];
}

/** Kinds of aircraft that may not fly at night, for whom asking about night work changes nothing. */
export function nightLines({ night }: Question, types: readonly AircraftType[]): string[] {
  const byDay = night.night ? types.filter(({ nightCapable }) => !nightCapable).map(({ id }) => id) : [];
  if (byDay.length === 0) return [];
  return wrapped(`${byDay.join(", ")} may not fly at night and ${byDay.length > 1 ? "are" : "is"} judged by day`, 2);
}

/** What is told of some cases; those of which the same is told are put together. */
export interface Told {
  readonly heading: string;
  readonly lines: readonly string[];
}

export function toldOf(cases: readonly Case[], linesOf: (one: Case) => readonly string[]): Told[] {
  const groups = new Map<
    string,
    { readonly first: Case; readonly typeIds: string[]; readonly lines: readonly string[] }
  >();
  for (const one of cases) {
    const lines = linesOf(one);
    const key = [one.part, ...lines].join("\n");
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { first: one, typeIds: [one.type.id], lines });
    else group.typeIds.push(one.type.id);
  }
  return [...groups.values()].map(({ first, typeIds, lines }) => ({ heading: headingOf(typeIds, first), lines }));
}

const partWords = { whole: "", near: ", the part near to a place downwind", rest: ", the rest of the field" } as const;

function headingOf(typeIds: readonly string[], { part, areaHa }: Case): string {
  return `by ${typeIds.join(", ")}${partWords[part]}${part === "whole" ? "" : ` (${areaHa.toFixed(2)} ha)`}`;
}
