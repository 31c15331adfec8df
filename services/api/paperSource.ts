import type { Publication } from "../../shared/contracts/plans.ts";
import type { PaperSource } from "../papers/page/source.ts";
import type { Store } from "../store/store.ts";

const nameOf = (planId: string) => planId.slice(0, 8);

export function publishedSource({ createdAt, number, planId }: Publication): PaperSource {
  return { planName: nameOf(planId), publication: number, latest: number, madeAt: new Date(createdAt) };
}

/** Of any plan, with what became of it; null where there is no such plan. */
export async function planSource(store: Store, planId: string): Promise<PaperSource | null> {
  const plan = await store.planSummary(planId);
  if (plan === null) return null;
  const publications = await store.publicationsOf(plan.operationId);
  const own = publications.find((one) => one.planId === planId);
  return {
    planName: nameOf(planId),
    publication: own?.number ?? null,
    latest: publications[0]?.number ?? null,
    madeAt: new Date(own?.createdAt ?? plan.createdAt),
  };
}
