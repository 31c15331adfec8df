import { Kysely, PostgresDialect } from "kysely";
import pg from "pg";
import { HeardClient } from "../heardClient.ts";
import { isKnownStep, migrate, NewerStore } from "../migrations.ts";
import { type BackupFoot, type BackupHead, type BackupRow, FaultyBackup, readBackup } from "./format.ts";
import { type BackedTable, plainTexts, quoted, tablesOf } from "./tables.ts";

const batchBytes = 4 * 1024 * 1024;
const batchRowsMost = 500;

/** The store has something in it, or was made in a way that the backup does not fit. */
export class NotEmpty extends Error {
  constructor(what: string) {
    super(what);
    this.name = "NotEmpty";
  }
}

/**
 * Into an empty store, all or nothing. The file is read to its end before anything is written. Its tables are made as they were when it was taken, filled, and then brought up to date, as an
 * older store is at a start.
 */
export async function restoreBackup(databaseUrl: string, file: string): Promise<BackupFoot> {
  let head: BackupHead | null = null;
  await readBackup(file, (piece) => {
    if (piece.kind === "head") head = piece.head;
  });
  const { step } = head as unknown as BackupHead;
  if (!isKnownStep(step)) throw new NewerStore(step);
  await bringTo(databaseUrl, step);
  const foot = await fill(databaseUrl, file, step);
  await bringTo(databaseUrl, undefined);
  return foot;
}

async function bringTo(databaseUrl: string, step: string | undefined): Promise<void> {
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    Client: HeardClient,
    max: 1,
    connectionTimeoutMillis: 10_000,
  });
  // Also of a server that stops while the connection is being let go of.
  pool.on("error", () => undefined);
  const db = new Kysely<unknown>({ dialect: new PostgresDialect({ pool }) });
  try {
    const later = step === undefined ? [] : await stepsAfter(pool, step);
    if (later.length > 0) {
      throw new NotEmpty(`its tables are newer than the backup (${later[0]}); restore into a new database`);
    }
    await migrate(db, step);
  } finally {
    await db.destroy();
  }
}

async function stepsAfter(pool: pg.Pool, step: string): Promise<string[]> {
  const { rows: there } = await pool.query<{ is: boolean }>("select to_regclass('kysely_migration') is not null as is");
  if (!there[0]!.is) return [];
  const { rows } = await pool.query<{ name: string }>(
    "select name from kysely_migration where name > $1 order by name",
    [step],
  );
  return rows.map(({ name }) => name);
}

async function fill(databaseUrl: string, file: string, step: string): Promise<BackupFoot> {
  const client = new HeardClient({ connectionString: databaseUrl, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    await client.query("begin");
    await client.query(plainTexts);
    const tables = new Map((await tablesOf(client)).map((table) => [table.name, table]));
    for (const { name } of tables.values()) {
      await client.query(`lock table ${quoted(name)} in access exclusive mode`);
      const { rows } = await client.query<{ some: boolean }>(`select exists (select from ${quoted(name)}) as some`);
      if (rows[0]!.some) throw new NotEmpty(`there are rows in ${name}; restore into a new database`);
    }
    const keys = await takeAwayKeys(client);
    const foot = await insertAll(client, tables, file, step);
    for (const key of keys) await client.query(key);
    for (const table of tables.values()) await countOn(client, table);
    await checkCounts(client, foot);
    await client.query("commit");
    return foot;
  } finally {
    // What is not committed is taken back with the connection.
    await client.end().catch(() => undefined);
  }
}

async function insertAll(
  client: pg.Client,
  tables: ReadonlyMap<string, BackedTable>,
  file: string,
  step: string,
): Promise<BackupFoot> {
  let into: { readonly sql: string; readonly columns: number } | null = null;
  let batch: BackupRow[] = [];
  let bytes = 0;
  const flush = async () => {
    if (!into || batch.length === 0) return;
    const rows = batch;
    batch = [];
    bytes = 0;
    await client.query(
      into.sql,
      Array.from({ length: into.columns }, (_, at) => rows.map((row) => row[at]!)),
    );
  };
  return readBackup(file, async (piece) => {
    if (piece.kind === "row") {
      batch.push(piece.row);
      bytes += piece.bytes;
      if (batch.length >= batchRowsMost || bytes >= batchBytes) await flush();
      return;
    }
    await flush();
    if (piece.kind === "table") into = { sql: insertSql(piece, tables, step), columns: piece.columns.length };
  });
}

/** A statement that takes a list of texts for each column. */
function insertSql(
  { table, columns }: { readonly table: string; readonly columns: readonly string[] },
  tables: ReadonlyMap<string, BackedTable>,
  step: string,
): string {
  const known = tables.get(table);
  const types = columns.map((column) => known?.columns.find(({ name }) => name === column)?.type);
  if (!known || known.columns.length !== columns.length || types.includes(undefined)) {
    throw new FaultyBackup(`its table ${table} is not as step ${step} makes it`);
  }
  const names = columns.map(quoted).join(", ");
  const lists = columns.map((_, at) => `$${at + 1}::text[]`).join(", ");
  const values = columns.map((column, at) => `given.${quoted(column)}::${types[at]}`).join(", ");
  return `insert into ${quoted(table)} (${names}) overriding system value select ${values} from unnest(${lists}) as given (${names})`;
}

/** Tables refer to each other in circles, so no order of filling them would do. What makes the keys again also tries them on every row. */
async function takeAwayKeys(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ table: string; name: string; definition: string }>(
    `select conrelid::regclass::text as "table", conname as name, pg_get_constraintdef(oid) as definition
       from pg_constraint where contype = 'f' and connamespace = current_schema()::regnamespace order by conname`,
  );
  for (const { table, name } of rows) await client.query(`alter table ${table} drop constraint ${quoted(name)}`);
  return rows.map(({ table, name, definition }) => `alter table ${table} add constraint ${quoted(name)} ${definition}`);
}

async function countOn(client: pg.Client, { name, columns }: BackedTable): Promise<void> {
  for (const column of columns.filter(({ counts }) => counts)) {
    await client.query(
      `select setval(pg_get_serial_sequence($1, $2), max(${quoted(column.name)})) from ${quoted(name)} having max(${quoted(column.name)}) is not null`,
      [quoted(name), column.name],
    );
  }
}

async function checkCounts(client: pg.Client, { rows: wanted }: BackupFoot): Promise<void> {
  for (const [table, count] of Object.entries(wanted)) {
    const { rows } = await client.query<{ count: string }>(`select count(*) from ${quoted(table)}`);
    if (Number(rows[0]!.count) !== count) throw new FaultyBackup(`of ${table} not every row came to be`);
  }
}
