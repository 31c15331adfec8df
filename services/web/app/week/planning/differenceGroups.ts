import type { OutfitChange, PlanDifference, StopChange, StopPlace } from "../../../../../shared/replan/difference.ts";

/** What a change is for the crew-day under which it is told: a stop that moves to another one leaves the one and comes to the other. */
export type ChangeRole = "done" | "added" | "dropped" | "otherTime" | "comes" | "goes";

export interface ToldChange {
  readonly role: ChangeRole;
  readonly change: StopChange;
}

export interface CrewDayChanges {
  readonly crewId: string;
  readonly crewName: string;
  readonly date: string;
  /** By the time at which the crew-day has, or had, them. */
  readonly stops: readonly ToldChange[];
  readonly outfit: OutfitChange | null;
}

/** The changes of a plan by day, then crew, as each crew will read them. */
export function differenceGroups({ changes, outfits }: Pick<PlanDifference, "changes" | "outfits">): CrewDayChanges[] {
  const groups = new Map<string, { of: CrewDayChanges; stops: { told: ToldChange; at: string }[] }>();
  const groupOf = ({ crewId, crewName, date }: Pick<StopPlace, "crewId" | "crewName" | "date">) => {
    const key = `${date} ${crewId}`;
    const group = groups.get(key) ?? { of: { crewId, crewName, date, stops: [], outfit: null }, stops: [] };
    groups.set(key, group);
    return group;
  };
  for (const change of changes) {
    for (const { place, role } of placesOf(change)) {
      groupOf(place).stops.push({ told: { role, change }, at: place.startAt });
    }
  }
  for (const outfit of outfits) {
    const group = groupOf(outfit);
    group.of = { ...group.of, outfit };
  }
  return [...groups.values()]
    .map(({ of, stops }) => ({
      ...of,
      stops: [...stops].sort((a, b) => Date.parse(a.at) - Date.parse(b.at)).map(({ told }) => told),
    }))
    .sort((a, b) => a.date.localeCompare(b.date) || a.crewName.localeCompare(b.crewName));
}

function placesOf(change: StopChange): { place: StopPlace; role: ChangeRole }[] {
  const { before, kind, now } = change;
  if (kind !== "moved") {
    const place = now ?? before;
    return place === null ? [] : [{ place, role: kind }];
  }
  if (before === null || now === null) return [];
  if (before.crewId === now.crewId && before.date === now.date) return [{ place: now, role: "otherTime" }];
  return [
    { place: before, role: "goes" },
    { place: now, role: "comes" },
  ];
}
