import { type ReportOutcome, reportsAtOnce } from "../../shared/contracts/fieldwork.ts";
import { groundOf } from "../../shared/done/ground.ts";
import { refusalOf } from "../../shared/done/refusal.ts";
import { workReportSchema } from "../../shared/done/workReport.ts";
import { issueWords } from "../../shared/model/issueWords.ts";
import type { Store } from "../store/store.ts";
import type { AddedReport, CrewDayKey, NewReport } from "../store/workReports.ts";
import { faultsOf } from "./problems.ts";
import { unstorableTexts } from "./storableText.ts";

type Judged =
  | { readonly status: "good"; readonly report: NewReport }
  | { readonly status: "refused"; readonly outcome: ReportOutcome };

/** Each report by itself, against the plan that its phone had. */
export async function judgeReports(store: Store, day: CrewDayKey, sent: readonly unknown[]): Promise<Judged[]> {
  const plans = new Map<number, Awaited<ReturnType<Store["planOfPublication"]>>>();
  const planOf = async (number: number) => {
    if (!plans.has(number)) plans.set(number, await store.planOfPublication(day.operationId, number));
    return plans.get(number) ?? null;
  };
  const judged: Judged[] = [];
  for (const raw of sent) {
    const read = workReportSchema.safeParse(raw, { error: issueWords });
    const faults = [...unstorableTexts(raw), ...(read.success ? [] : faultsOf(read.error, raw))];
    if (!read.success || faults.length > 0) {
      const why = "This is no report that can be read.";
      judged.push(refused({ id: idIn(raw), why, faults: faults.slice(0, reportsAtOnce) }));
      continue;
    }
    const report = read.data;
    const stored = await planOf(report.publication);
    const why = refusalOf(stored?.plan ?? null, day, report);
    if (!stored || why !== null) {
      judged.push(refused({ id: report.id, why: why ?? "" }));
      continue;
    }
    const block = report.kind === "correction" ? undefined : stored.plan.blocks.find(({ id }) => id === report.blockId);
    judged.push({
      status: "good",
      report: { report, planId: stored.id, ground: block ? groundOf(block) : null },
    });
  }
  return judged;
}

/** What became of each, in the order sent; `added`: of the good ones. */
export function outcomesOf(judged: readonly Judged[], added: readonly AddedReport[]): ReportOutcome[] {
  const left = [...added];
  return judged.map((one) => {
    if (one.status === "refused") return one.outcome;
    const { id } = one.report.report;
    const outcome = left.shift()!;
    return outcome === "otherReport"
      ? { id, outcome: "refused", why: "Another report has this id." }
      : { id, outcome, why: null };
  });
}

const refused = (told: Omit<ReportOutcome, "outcome">): Judged => ({
  status: "refused",
  outcome: { ...told, outcome: "refused" },
});

/** So that a phone knows again which of its reports was refused. */
function idIn(raw: unknown): string | null {
  const id = raw !== null && typeof raw === "object" && "id" in raw ? raw.id : null;
  return typeof id === "string" ? id.slice(0, 200) : null;
}
