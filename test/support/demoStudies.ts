import { readFile } from "node:fs/promises";
import type { Store } from "../../services/store/store.ts";
import type { NewStudy } from "../../services/store/studyStore.ts";
import type { StudyKind } from "../../shared/contracts/studies.ts";
import { acting, madeBy } from "./acting.ts";

/** How the demo's published plan is searched for, unless somebody says otherwise. */
export const demoSearch = { iterations: 1_500, seed: 1 } as const;

interface Recorded {
  readonly ask: object;
  readonly result: unknown;
}
export type RecordedStudies = Readonly<Record<"week" | "season" | "remedies" | "bottlenecks", Recorded>>;

/** What the demo's studies came to when they were worked last (bench demo-studies): to work them takes many minutes. */
export const recordedStudies = new URL("../data/demoStudies.json", import.meta.url);

interface Shown {
  readonly operationId: string;
  readonly planId: string;
  readonly caseSet: { readonly id: string; readonly version: number };
}

/** The demo's studies as they were recorded, in a store as if a worker had just worked them; their ids. */
export async function storeDemoStudies(store: Store, { caseSet, operationId, planId }: Shown) {
  const recorded = JSON.parse(await readFile(recordedStudies, "utf8")) as RecordedStudies;
  const done = async (kind: StudyKind, name: keyof RecordedStudies, of: Pick<NewStudy, "caseSet" | "planId">) => {
    const { ask, result } = recorded[name];
    const { id: studyId } = await madeBy(
      store.addStudy({ kind, operationId, version: 1, ask, parts: [{}], ...of }, acting),
    );
    const key = { studyId, part: 0 };
    await store.startPart(key);
    await store.finishPart(key, { status: "done", result });
    await store.concludeStudy(studyId, { status: "done", result });
    return studyId;
  };
  return {
    week: await done("cases", "week", { caseSet }),
    season: await done("cases", "season", { caseSet }),
    remedies: await done("remedies", "remedies", { planId }),
    bottlenecks: await done("bottlenecks", "bottlenecks", { planId }),
  };
}

export type DemoStudies = Awaited<ReturnType<typeof storeDemoStudies>>;
