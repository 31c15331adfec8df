import type { CrewSheet, SheetStop } from "../../../../shared/plan/crewSheet.ts";
import type { LocalTime } from "../../../../shared/plan/localTime.ts";

/** What is otherwise in a crew's day than it was told before. */
export type DayChange =
  | { readonly kind: "leave"; readonly before: LocalTime; readonly now: LocalTime }
  | { readonly kind: "added" | "gone"; readonly fieldName: string; readonly start: LocalTime }
  | { readonly kind: "start"; readonly fieldName: string; readonly before: LocalTime; readonly now: LocalTime }
  | { readonly kind: "ground" | "mix" | "pad" | "limits"; readonly fieldName: string }
  | { readonly kind: "order" | "outfit" | "people" };

/** Ground that differs by less is rounding. */
const sameShare = 0.001;

export function dayChanges(before: CrewSheet, now: CrewSheet): DayChange[] {
  const old = new Map(before.stops.map((stop) => [stop.blockId, stop]));
  const present = new Set(now.stops.map(({ blockId }) => blockId));
  const stayed = now.stops.filter(({ blockId }) => old.has(blockId));
  const changes: DayChange[] = [];
  if (before.leaveBy.iso !== now.leaveBy.iso) changes.push({ kind: "leave", before: before.leaveBy, now: now.leaveBy });
  for (const { blockId, fieldName, start } of before.stops) {
    if (!present.has(blockId)) changes.push({ kind: "gone", fieldName, start });
  }
  for (const stop of now.stops) {
    const told = old.get(stop.blockId);
    changes.push(
      ...(told === undefined
        ? [{ kind: "added" as const, fieldName: stop.fieldName, start: stop.start }]
        : stopChanges(told, stop)),
    );
  }
  const orderBefore = before.stops.filter(({ blockId }) => present.has(blockId)).map(({ blockId }) => blockId);
  if (stayed.some(({ blockId }, at) => orderBefore[at] !== blockId)) changes.push({ kind: "order" });
  if (!isSame(before.outfit, now.outfit)) changes.push({ kind: "outfit" });
  if (!isSame(before.people, now.people)) changes.push({ kind: "people" });
  return changes;
}

function stopChanges(before: SheetStop, now: SheetStop): DayChange[] {
  const { fieldName } = now;
  const isOtherGround = Math.abs(before.areaHa - now.areaHa) > sameShare * now.areaHa;
  return [
    ...(before.start.iso === now.start.iso
      ? []
      : [{ kind: "start" as const, fieldName, before: before.start, now: now.start }]),
    ...(isOtherGround ? [{ kind: "ground" as const, fieldName }] : []),
    ...(!isOtherGround && !isSame(before.mix, now.mix) ? [{ kind: "mix" as const, fieldName }] : []),
    ...(before.padId === now.padId ? [] : [{ kind: "pad" as const, fieldName }]),
    ...(isSame(before.siteLimits, now.siteLimits) ? [] : [{ kind: "limits" as const, fieldName }]),
  ];
}

const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);
