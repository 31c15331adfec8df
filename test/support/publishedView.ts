import { randomUUID } from "node:crypto";
import type { Store } from "../../services/store/store.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { acting, madeBy } from "./acting.ts";
import { viewOperation, viewPlan, viewReport } from "./viewPlan.ts";

/** The week as people read it, stored under a name of its own and told to the crews. */
export async function publishedView(
  store: Store,
  change: (operation: Operation) => Operation = (operation) => operation,
): Promise<{ operationId: string; planId: string; plan: Plan }> {
  const view = change(viewOperation());
  const operation = { ...view, settings: { ...view.settings, name: `operation ${randomUUID()}` } };
  const { id } = (await store.importOperation(operation, acting)).operation;
  const { planId, plan } = await publishedPlan(store, id, viewPlan(operation), 0);
  return { operationId: id, planId, plan };
}

/** `after`: the number of the publication before. */
export async function publishedPlan(
  store: Store,
  operationId: string,
  plan: Plan,
  after: number,
): Promise<{ planId: string; plan: Plan }> {
  const request = await madeBy(
    store.addPlanRequest({ operationId, version: 1, budget: { iterations: 1 }, seed: 1 }, acting),
  );
  await store.startRequest(request.id);
  await store.finishRequest(request.id, { status: "done", plan, report: viewReport as never });
  await store.publish(request.id, after, "", acting);
  return { planId: request.id, plan };
}
