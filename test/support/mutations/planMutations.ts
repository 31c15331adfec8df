import { addDays } from "../../../shared/model/calendar.ts";
import type {
  AircraftId,
  AircraftTypeId,
  BlockId,
  ChargerId,
  CrewId,
  OrderId,
  PadId,
  TenderId,
} from "../../../shared/model/quantities.ts";
import type { CrewDay, Score } from "../../../shared/plan/plan.ts";
import { activitiesOf, type Draft, type Mutation, mutation, pick, pickInt, stopsOf } from "./mutation.ts";

function onUnknown(name: string, change: (draft: Draft, crewDay: CrewDay) => boolean): Mutation {
  return mutation("knownIds", `unknown ${name}`, (draft) => {
    const crewDay = pick(draft, draft.plan.crewDays);
    return crewDay !== undefined && change(draft, crewDay);
  });
}

const nobody = "NOBODY";

const identityMutations: readonly Mutation[] = [
  mutation("sameOperation", "another name", ({ plan }) => {
    plan.operationName += " two";
    return true;
  }),
  mutation("sameOperation", "another time zone", ({ plan }) => {
    plan.timeZone = "Pacific/Chatham";
    return true;
  }),
  mutation("sameOperation", "another first day", (draft) => {
    draft.plan.firstDay = addDays(draft.plan.firstDay, pickInt(draft, 1, 7));
    return true;
  }),
  mutation("sameOperation", "another number of days", (draft) => {
    draft.plan.days += pickInt(draft, 1, 7);
    return true;
  }),
  onUnknown("crew", (_, crewDay) => {
    crewDay.crewId = nobody as CrewId;
    return true;
  }),
  onUnknown("aircraft", (draft, { outfit }) => {
    outfit.aircraftIds[pickInt(draft, 0, outfit.aircraftIds.length - 1)] = nobody as AircraftId;
    return true;
  }),
  onUnknown("tender", (_, { outfit }) => {
    outfit.tenderId = nobody as TenderId;
    return true;
  }),
  onUnknown("charger", (_, { outfit }) => {
    outfit.chargerIds.push(nobody as ChargerId);
    return true;
  }),
  onUnknown("battery type", (_, { outfit }) => {
    outfit.batterySets.push({ aircraftTypeId: nobody as AircraftTypeId, sets: 1 });
    return true;
  }),
  onUnknown("place", (draft) => {
    const drive = pick(draft, activitiesOf(draft, "drive"))?.activity;
    if (drive === undefined) return false;
    drive.to = nobody;
    return true;
  }),
  onUnknown("block", (draft) => {
    pick(draft, stopsOf(draft))!.work.blockId = "NOBODY#1" as BlockId;
    return true;
  }),
  onUnknown("pad", (draft) => {
    pick(draft, stopsOf(draft))!.work.padId = nobody as PadId;
    return true;
  }),
  onUnknown("order of a block", (draft) => {
    pick(draft, draft.plan.blocks)!.orderId = nobody as OrderId;
    return true;
  }),
  onUnknown("order of a conflict", (draft) => {
    const conflict = pick(draft, draft.plan.conflicts);
    if (conflict === undefined) return false;
    conflict.orderId = nobody as OrderId;
    return true;
  }),
  onUnknown("block of a conflict", (draft) => {
    const conflict = pick(draft, draft.plan.conflicts);
    if (conflict === undefined) return false;
    conflict.blockIds.push("NOBODY#1" as BlockId);
    return true;
  }),
  mutation("knownIds", "a block listed twice", (draft) => {
    draft.plan.blocks.push(structuredClone(pick(draft, draft.plan.blocks)!));
    return true;
  }),
];

const planningMutations: readonly Mutation[] = [
  mutation("plannedOnce", "one block worked twice", (draft) => {
    const [first, ...others] = stopsOf(draft).sort(() => draft.random() - 0.5);
    const second = others.find(({ block }) => block !== first!.block);
    if (first === undefined || second === undefined) return false;
    second.work.blockId = first.block.id;
    return true;
  }),
  mutation("conflictNamed", "a conflict kept back", (draft) => {
    const conflict = pick(draft, draft.plan.conflicts);
    if (conflict === undefined) return false;
    draft.plan.conflicts = draft.plan.conflicts.filter((one) => one !== conflict);
    return true;
  }),
  mutation("conflictNamed", "a block named twice", (draft) => {
    const conflict = pick(
      draft,
      draft.plan.conflicts.filter(({ blockIds }) => blockIds.length > 0),
    );
    if (conflict === undefined) return false;
    draft.plan.conflicts.push(structuredClone(conflict));
    return true;
  }),
  mutation("conflictNamed", "a worked block named", (draft) => {
    const stop = pick(draft, stopsOf(draft));
    if (stop === undefined) return false;
    draft.plan.conflicts.push({
      orderId: stop.order.id,
      blockIds: [stop.block.id],
      areaHa: stop.block.areaHa,
      kind: "noWindow",
      sentence: "No window.",
      evidence: {},
    });
    return true;
  }),
  mutation("conflictNamed", "a block of another order named", (draft) => {
    const conflict = pick(draft, draft.plan.conflicts);
    const block = draft.plan.blocks.find((one) => one.orderId !== conflict?.orderId);
    if (conflict === undefined || block === undefined) return false;
    conflict.blockIds.push(block.id);
    return true;
  }),
  mutation("conflictNamed", "other hectares", (draft) => {
    const conflict = pick(draft, draft.plan.conflicts);
    if (conflict === undefined) return false;
    conflict.areaHa = conflict.areaHa * 1.05 + 0.1;
    return true;
  }),
  mutation("conflictNamed", "a work kept back", (draft) => {
    const found = pick(draft, activitiesOf(draft, "work"));
    if (found === undefined) return false;
    const { startMin, endMin } = found.activity;
    found.crewDay.activities[found.index] = { kind: "wait", startMin, endMin };
    return true;
  }),
];

const scoreParts: readonly (keyof Score)[] = [
  "unservedCents",
  "lateCents",
  "driveCents",
  "labourCents",
  "overtimeCents",
  "runningCents",
  "outfitChangeCents",
  "lodgingCents",
  "riskCents",
  "changeCents",
  "totalCents",
  "servedHa",
  "orderedHa",
  "roadKm",
  "dutyMin",
];
const scoreMutations: readonly Mutation[] = scoreParts.map((part) =>
  mutation("score", part, (draft) => {
    draft.plan.score[part] =
      (draft.plan.score[part] ?? 0) + (draft.random() < 0.5 ? -1 : 1) * (1.01 + 100 * draft.random());
    return true;
  }),
);

export const planMutations: readonly Mutation[] = [...identityMutations, ...planningMutations, ...scoreMutations];
