import pg from "pg";
import { checkReportSchema } from "../../../shared/contracts/plans.ts";
import type { Acknowledged } from "./customers.ts";

export interface Afterwards {
  readonly unfinished: number;
  readonly faults: string[];
  /** How often what was begun had to be begun. */
  readonly starts: ReadonlyMap<number, number>;
}

/** What is in the store, held against what was promised: read straight from the tables, past all code of ours. */
export async function lookAfterwards(databaseUrl: string, promised: readonly Acknowledged[]): Promise<Afterwards> {
  const client = new pg.Client({ connectionString: databaseUrl });
  // The database may be killed under it; the query tells.
  client.on("error", () => undefined);
  await client.connect();
  try {
    const rows = async <Row>(text: string) => (await client.query(text)).rows as Row[];
    const requests = await rows<{
      id: string;
      status: string;
      failure: unknown;
      starts: number;
      plans: number;
      report: unknown;
    }>(
      `select r.id, r.status, r.failure, r.starts, (select count(*)::int from plans p where p.request_id = r.id) as plans,
        (select p.report from plans p where p.request_id = r.id limit 1) as report from plan_requests r`,
    );
    const studies = await rows<{ id: string; status: string; failure: unknown; told: boolean }>(
      "select id, status, failure, result is not null as told from studies",
    );
    const parts = await rows<{ study_id: string; status: string; starts: number }>(
      "select study_id, status, starts from study_parts",
    );
    const reports = new Set((await rows<{ id: string }>("select id from work_reports")).map(({ id }) => id));
    const keys = await rows<{ key: string; thing_id: string }>("select key, thing_id from once_keys");

    const faults: string[] = [];
    const thingOf = new Map(keys.map(({ key, thing_id }) => [key, thing_id]));
    for (const { kind, key, id } of promised) {
      if (kind === "report") {
        if (!reports.has(id)) faults.push(`report ${id} was acknowledged and is lost`);
        continue;
      }
      if (thingOf.get(key) !== id) faults.push(`${kind} ${id} was acknowledged under a key that is not known`);
      const there = kind === "plan" ? requests.some((one) => one.id === id) : studies.some((one) => one.id === id);
      if (!there) faults.push(`${kind} ${id} was acknowledged and is lost`);
    }
    // Every call has a key of its own and was sent until it was acknowledged.
    const count = (wanted: Acknowledged["kind"]) => promised.filter(({ kind }) => kind === wanted).length;
    const plans = count("plan");
    if (requests.length !== plans)
      faults.push(`${plans} plans were acknowledged, ${requests.length} requests are there`);
    if (studies.length !== count("study")) {
      faults.push(`${count("study")} studies were acknowledged, ${studies.length} are there`);
    }
    if (reports.size !== count("report")) {
      faults.push(`${count("report")} reports were acknowledged, ${reports.size} are there`);
    }
    const open = (status: string) => status === "queued" || status === "running";
    for (const { id, status, failure, plans: made, report } of requests) {
      if (open(status)) continue;
      if (status !== "done") faults.push(`plan ${id} is ${status}: ${JSON.stringify(failure)}`);
      else if (made !== 1) faults.push(`plan ${id} is done and has ${made} plans`);
      else if (!checkReportSchema.parse(report).ok) faults.push(`plan ${id} breaks rules`);
    }
    for (const { id, status, failure, told } of studies) {
      if (open(status)) continue;
      if (status !== "done" || !told) faults.push(`study ${id} is ${status}: ${JSON.stringify(failure)}`);
    }
    for (const { study_id, status } of parts) {
      if (!open(status) && status !== "done") faults.push(`a part of study ${study_id} is ${status}`);
    }
    const starts = new Map<number, number>();
    for (const { starts: often } of [...requests, ...parts]) starts.set(often, (starts.get(often) ?? 0) + 1);
    const unfinished = [...requests, ...studies, ...parts].filter(({ status }) => open(status)).length;
    return { unfinished, faults, starts };
  } finally {
    await client.end();
  }
}
