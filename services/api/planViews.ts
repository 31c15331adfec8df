import { calmViewSchema } from "../../shared/contracts/calm.ts";
import { storedPlanSchema } from "../../shared/contracts/plans.ts";
import { crewSheetSchema, weekViewSchema } from "../../shared/contracts/views.ts";
import { calmHours } from "../../shared/plan/calmHours.ts";
import { caution } from "../../shared/plan/caution.ts";
import { crewSheet } from "../../shared/plan/crewSheet.ts";
import { weekView } from "../../shared/plan/weekView.ts";
import type { Store } from "../store/store.ts";
import type { ApiParts } from "./route.ts";
import type { Rendered } from "./viewCache.ts";

type Parts = Pick<ApiParts, "store" | "views">;

export async function planWithOperation(store: Store, planId: string) {
  const stored = await store.plan(planId);
  if (!stored) return null;
  const version = await store.operationVersion(stored.operationId, stored.version);
  if (!version) throw new Error(`plan ${planId} has lost its operation`);
  return { plan: stored.plan, operation: version.document };
}

/** A plan never changes, but its state does, so that it is kept under both. */
export async function planBytes({ store, views }: Parts, planId: string): Promise<Rendered | null> {
  const summary = await store.planSummary(planId);
  if (summary === null) return null;
  return views.get(`plan ${planId} ${summary.state}`, async () => {
    const stored = await store.plan(planId);
    return stored && storedPlanSchema.parse(stored);
  });
}

export function weekBytes({ store, views }: Parts, planId: string): Promise<Rendered | null> {
  return views.get(`week ${planId}`, async () => {
    const found = await planWithOperation(store, planId);
    const report = await store.checkReport(planId);
    return found && report && weekViewSchema.parse(weekView(found.operation, found.plan, report));
  });
}

export function calmBytes({ store, views }: Parts, planId: string): Promise<Rendered | null> {
  return views.get(`calm ${planId}`, async () => {
    const found = await planWithOperation(store, planId);
    return found && calmViewSchema.parse({ caution, ...calmHours(found.operation, found.plan) });
  });
}

export function sheetBytes({ store, views }: Parts, planId: string, crewId: string, date: string) {
  return views.get(`sheet ${planId} ${crewId} ${date}`, async () => {
    const sheet = await readSheet(store, planId, crewId, date);
    return sheet && crewSheetSchema.parse(sheet);
  });
}

export async function readSheet(store: Store, planId: string, crewId: string, date: string) {
  const found = await planWithOperation(store, planId);
  return found && crewSheet(found.operation, found.plan, crewId, date);
}
