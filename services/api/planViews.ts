import { storedPlanSchema } from "../../shared/contracts/plans.ts";
import type { Store } from "../store/store.ts";
import type { Viewed, Wanted } from "../views/viewMaker.ts";
import type { ApiParts } from "./route.ts";
import { jsonOf, type Viewing } from "./viewCache.ts";

type Parts = Pick<ApiParts, "store" | "views" | "maker">;

/** A plan never changes, but its state does, so that it is kept under both. */
export async function planBytes({ store, views }: Parts, planId: string): Promise<Viewing> {
  const summary = await store.planSummary(planId);
  if (summary === null) return null;
  return views.get(`plan ${planId} ${summary.state}`, async () => {
    const stored = await store.plan(planId);
    return stored && jsonOf(storedPlanSchema.parse(stored));
  });
}

/** Kept under all that it is asked for by. */
export function viewOfPlan({ store, views, maker }: Parts, planId: string, wanted: Wanted): Promise<Viewing> {
  const readViewed = () => viewedPlan(store, planId);
  return views.get(`${planId} ${JSON.stringify(wanted)}`, () => maker.ofPlan({ planId, wanted, readViewed }));
}

async function viewedPlan(store: Store, planId: string): Promise<Viewed | null> {
  const stored = await store.plan(planId);
  if (!stored) return null;
  const version = await store.operationVersion(stored.operationId, stored.version);
  const report = await store.checkReport(planId);
  if (!version || !report) throw new Error(`plan ${planId} has lost its operation or what the checker said`);
  return { plan: stored.plan, operation: version.document, report };
}
