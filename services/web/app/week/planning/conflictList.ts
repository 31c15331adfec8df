import type { ConflictView } from "../../../../../shared/plan/weekOrders.ts";

export interface ConflictFilter {
  readonly search: string;
  /** Empty: all. */
  readonly kind: string;
  readonly priority: string;
}

export const noFilter: ConflictFilter = { search: "", kind: "", priority: "" };

export interface ConflictGroup {
  readonly kind: ConflictView["kind"];
  readonly words: string;
  readonly areaHa: number;
  /** What weighs most first: by priority, then by hectares. */
  readonly conflicts: readonly ConflictView[];
}

const weights: Readonly<Record<ConflictView["priority"], number>> = { mandatory: 0, high: 1, normal: 2, low: 3 };

/** Those that fit every word of the search, by kind; the kind with most hectares first. */
export function conflictGroups(conflicts: readonly ConflictView[], filter: ConflictFilter): ConflictGroup[] {
  const words = filter.search.toLocaleLowerCase("en").split(/\s+/).filter(Boolean);
  const groups = new Map<string, ConflictView[]>();
  for (const conflict of conflicts) {
    if (filter.kind !== "" && conflict.kind !== filter.kind) continue;
    if (filter.priority !== "" && conflict.priority !== filter.priority) continue;
    const text = textOf(conflict);
    if (!words.every((word) => text.includes(word))) continue;
    groups.set(conflict.kind, [...(groups.get(conflict.kind) ?? []), conflict]);
  }
  return [...groups.values()]
    .map((ofKind) => ({
      kind: ofKind[0]!.kind,
      words: ofKind[0]!.kindWords,
      areaHa: ofKind.reduce((sum, { areaHa }) => sum + areaHa, 0),
      conflicts: [...ofKind].sort((a, b) => weights[a.priority] - weights[b.priority] || b.areaHa - a.areaHa),
    }))
    .sort((a, b) => b.areaHa - a.areaHa);
}

function textOf({ fieldName, grower, kindWords, orderId, sentence }: ConflictView): string {
  return [orderId, fieldName, grower, kindWords, sentence].join(" ").toLocaleLowerCase("en");
}
