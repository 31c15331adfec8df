import pg from "pg";

/** As if no worker had told for an hour that it lives. */
export async function silenceWorkers(databaseUrl: string): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  for (const table of ["plan_requests", "study_parts"]) {
    await client.query(`update ${table} set reported_at = now() - interval '1 hour' where status = 'running'`);
  }
  await client.end();
}
