import type { Operation } from "../model/operation.ts";
import type { Plan } from "../plan/plan.ts";
import { sumOf } from "../plan/totals.ts";
import { type UsedDay, useOf } from "../plan/use.ts";
import type { Used } from "./runResult.ts";

/** How much of the time in which it could be each crew and thing is used over the week. */
export function usedOf(operation: Operation, plan: Plan): Used[] {
  const use = useOf(operation, plan);
  const over = (days: readonly UsedDay[]) => ({
    thereMin: sumOf(days, ({ thereMin }) => thereMin),
    usedMin: sumOf(days, ({ outMin }) => outMin),
  });
  const nameOf = (id: string) => operation.fleet.tenders.find((tender) => tender.id === id)?.name ?? id;
  return [
    ...use.crews.map(({ crewId, name, baseId, allowedMin, dutyMin }) => ({
      thing: "crew" as const,
      id: crewId,
      name,
      baseId,
      thereMin: allowedMin,
      usedMin: dutyMin,
    })),
    ...use.aircraft.map(({ typeId, name, baseId, days }) => ({
      thing: "aircraft" as const,
      id: typeId,
      name,
      baseId,
      ...over(days),
    })),
    ...use.tenders.map(({ id, baseId, days }) => ({
      thing: "tender" as const,
      id,
      name: nameOf(id),
      baseId,
      ...over(days),
    })),
    ...use.chargers.map(({ id, baseId, days }) => ({
      thing: "charger" as const,
      id,
      name: id,
      baseId,
      ...over(days),
    })),
  ];
}
