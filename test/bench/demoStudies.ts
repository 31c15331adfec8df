import { writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { loadHighs } from "../../services/linear/highs.ts";
import { readScenario } from "../../services/scenario/read.ts";
import { planOperation } from "../../services/solver/planOperation.ts";
import { createRandom } from "../../services/solver/random.ts";
import { usualThreads } from "../../services/threads/usualThreads.ts";
import { findBottlenecks } from "../../services/whatif/findBottlenecks.ts";
import { runCases } from "../../services/whatif/runCases.ts";
import { runRemedies } from "../../services/worker/runRemedies.ts";
import { compareRuns } from "../../shared/cases/compareRuns.ts";
import { seasonSent } from "../../shared/cases/judgeCaseSet.ts";
import { bottlenecksAskSchema, remediesAskSchema } from "../../shared/contracts/studies.ts";
import { demoCaseSet } from "../support/demoCases.ts";
import { demoSearch, type RecordedStudies, recordedStudies } from "../support/demoStudies.ts";

export interface DemoStudiesOptions {
  readonly seeds: number;
  readonly weeks: number;
  readonly iterations: number;
}

const remedyThread = new URL("../../services/worker/remedyThread.ts", import.meta.url);

/** Works every study that the demo server shows, and writes down what they come to. */
export async function recordDemoStudies({ iterations, seeds, weeks }: DemoStudiesOptions): Promise<void> {
  const read = await readScenario(fileURLToPath(new URL("../../scenarios/demo", import.meta.url)));
  if (!read.ok) throw new Error("scenarios/demo is faulty");
  const { operation } = read;
  const threads = usualThreads();
  const set = await demoCaseSet(operation);
  const compared = async (asked: { readonly seeds: number; readonly weeks: number | null }) => {
    const file = { ...set.cases, budget: { iterations }, seeds: asked.seeds };
    const sampled = asked.weeks === null ? null : { season: seasonSent(set.season!, operation), weeks: asked.weeks };
    let ended = 0;
    const run = runCases({ operation, file, sampled, threads }, () => console.log(`run ${++ended}`));
    return { ask: { budget: { iterations }, ...asked }, result: compareRuns(operation, file, await run.outcomes) };
  };
  const { seed, iterations: searched } = demoSearch;
  const plan = planOperation(operation, {
    seed,
    random: createRandom(seed),
    doneShare: (done) => done / searched,
  });
  const { orderId: _all, ...helped } = remediesAskSchema.parse({});
  const remedies = await runRemedies(remedyThread, { operation, plan, ...helped, threads }, ({ tried, known }) =>
    console.log(`remedies: ${tried} of ${known}`),
  );
  if (remedies.remarks.length > 0) throw new Error(remedies.remarks.join("; "));
  const tight = bottlenecksAskSchema.parse({});
  const found = await findBottlenecks({ operation, plan, ...tight, threads }, await loadHighs(), (words) =>
    console.log(words),
  );
  const recorded: RecordedStudies = {
    week: await compared({ seeds, weeks: null }),
    season: await compared({ seeds: 1, weeks }),
    remedies: { ask: helped, result: remedies.remedies },
    bottlenecks: { ask: tight, result: found },
  };
  await writeFile(recordedStudies, `${JSON.stringify(recorded)}\n`);
}
