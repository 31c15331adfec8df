import { addDays } from "../../../shared/model/calendar.ts";
import type { BaseId } from "../../../shared/model/quantities.ts";
import type { CrewDay } from "../../../shared/plan/plan.ts";
import { crewOf, type Draft, type Mutation, moveBy, mutation, pick, typesOf } from "./mutation.ts";

const awayId = "AWAY" as BaseId;

/** A base beside the crew's own, with the same roads, at which the crew of a day picked at random sleeps after it; null where no drive goes home. */
function sleepAway(draft: Draft, days: readonly CrewDay[] = draft.plan.crewDays): CrewDay | null {
  const { operation } = draft;
  const day = pick(draft, days);
  const last = day?.activities.at(-1);
  if (day === undefined || last?.kind !== "drive") return null;
  const crew = crewOf(draft, day);
  const home = operation.settings.bases.find(({ id }) => id === crew.baseId)!;
  operation.settings.bases.push({ ...home, id: awayId });
  for (const road of [...operation.roads]) {
    const end = (id: string) => (id === home.id ? awayId : id);
    if (road.from === home.id || road.to === home.id)
      operation.roads.push({ ...road, from: end(road.from), to: end(road.to) });
  }
  crew.overnightBaseIds = [...(crew.overnightBaseIds ?? []), awayId];
  last.to = awayId;
  return day;
}

/** And a day after it with the same outfit that begins there, whether or not the plan had one. */
function sleepAwayAndGoOn(draft: Draft, days?: readonly CrewDay[]): { evening: CrewDay; morning: CrewDay } | null {
  const evening = sleepAway(draft, days);
  if (evening === null) return null;
  const { crewDays } = draft.plan;
  const date = addDays(evening.date, 1);
  const morning = structuredClone({ ...evening, date });
  for (const activity of morning.activities) moveBy(activity, 24 * 60);
  const first = morning.activities[0]!;
  if (first.kind !== "drive") return null;
  first.from = awayId;
  const last = morning.activities.at(-1)!;
  if (last.kind === "drive") last.to = crewOf(draft, evening).baseId;
  draft.plan.crewDays = [...crewDays.filter((one) => one.crewId !== evening.crewId || one.date !== date), morning];
  return { evening, morning };
}

function burnsNoFuel(draft: Draft, day: CrewDay): boolean {
  return typesOf(draft, day).every(({ power }) => power.source === "battery");
}

export const nightMutations: readonly Mutation[] = [
  mutation("nightAway", "nothing to do on the day after a night away", (draft) => {
    const day = sleepAway(draft);
    if (day === null) return false;
    const { plan } = draft;
    const after = addDays(day.date, 1);
    plan.crewDays = plan.crewDays.filter(({ crewId, date }) => crewId !== day.crewId || date !== after);
    return true;
  }),
  mutation("baseToBase", "the morning after a night away begins at home", (draft) => {
    const nights = sleepAwayAndGoOn(draft);
    if (nights === null) return false;
    const first = nights.morning.activities[0]!;
    if (first.kind !== "drive") return false;
    first.from = crewOf(draft, nights.morning).baseId;
    return true;
  }),
  mutation("baseToBase", "a night at a base where the crew may not sleep", (draft) => {
    const nights = sleepAwayAndGoOn(draft);
    if (nights === null) return false;
    crewOf(draft, nights.evening).overnightBaseIds = [];
    return true;
  }),
  mutation("nightOutfit", "another battery set on the morning after a night away", (draft) => {
    const sets = sleepAwayAndGoOn(draft)?.morning.outfit.batterySets[0];
    if (sets === undefined) return false;
    sets.sets += 1;
    return true;
  }),
  mutation("nightOutfit", "without an aircraft on the morning after a night away", (draft) => {
    const nights = sleepAwayAndGoOn(draft);
    if (nights === null) return false;
    nights.morning.outfit.aircraftIds.pop();
    return true;
  }),
  mutation("nightCharging", "sets that take all of a night away and more to charge", (draft) => {
    const nights = sleepAwayAndGoOn(
      draft,
      draft.plan.crewDays.filter((day) => burnsNoFuel(draft, day)),
    );
    if (nights === null) return false;
    for (const { power } of typesOf(draft, nights.evening)) if (power.source === "battery") power.chargeMin = 24 * 60;
    return true;
  }),
  mutation("oneCrewAtATime", "a tender that another crew has while its own sleeps away", (draft) => {
    const nights = sleepAwayAndGoOn(draft);
    if (nights === null) return false;
    const { evening, morning } = nights;
    const nightMin = morning.activities[0]!.startMin - evening.activities.at(-1)!.endMin;
    const other = draft.plan.crewDays.find(({ crewId }) => crewId !== evening.crewId);
    if (other === undefined || nightMin < 2) return false;
    const startMin = evening.activities.at(-1)!.endMin + 1;
    draft.plan.crewDays.push({
      ...structuredClone(other),
      outfit: { ...other.outfit, tenderId: evening.outfit.tenderId },
      activities: [{ kind: "wait", startMin, endMin: startMin + 1 }],
    });
    return true;
  }),
  mutation("score", "a night away that costs nothing", (draft) => {
    const nights = sleepAwayAndGoOn(draft);
    if (nights === null) return false;
    crewOf(draft, nights.evening).nightAwayCents = 5000;
    return true;
  }),
];
