import { createHash, randomBytes } from "node:crypto";
import { createWriteStream } from "node:fs";
import { open, rename, rm } from "node:fs/promises";
import { dirname } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGzip } from "node:zlib";
import pg from "pg";
import { type BackupFoot, type BackupHead, backupFormat, readBackup } from "./format.ts";
import { type BackedTable, plainTexts, quoted, tablesOf } from "./tables.ts";

/** Our choice: so much is held at once; a row may be as large as an operation, some megabytes. */
const batchBytes = 4 * 1024 * 1024;
const batchRowsMost = 50;

/**
 * Everything at one moment, while others go on working: one transaction sees the store as it was at its start. The file comes to be under its name when it is whole, has been read again and
 * found good; nobody but its owner may read it.
 */
export async function writeBackup(databaseUrl: string, file: string): Promise<BackupFoot> {
  const client = new pg.Client({ connectionString: databaseUrl, connectionTimeoutMillis: 10_000 });
  let broken: Error | null = null;
  client.on("error", (error) => {
    broken = error;
  });
  await client.connect();
  const draft = `${file}.${randomBytes(4).toString("hex")}.part`;
  try {
    await client.query("begin isolation level repeatable read read only");
    await client.query(plainTexts);
    await pipeline(
      Readable.from(linesOf(client), { objectMode: false }),
      createGzip(),
      createWriteStream(draft, { flags: "wx", mode: 0o600, flush: true }),
    );
    await client.query("commit");
    const foot = await readBackup(draft, () => undefined);
    await rename(draft, file);
    await flushFolder(dirname(file));
    return foot;
  } catch (error) {
    await rm(draft, { force: true });
    throw broken ?? error;
  } finally {
    await client.end().catch(() => undefined);
  }
}

async function* linesOf(client: pg.Client): AsyncGenerator<string> {
  const hash = createHash("sha256");
  const hashed = (line: string) => {
    hash.update(line);
    return line;
  };
  const rows: Record<string, number> = {};
  yield hashed(lineOf(await headOf(client)));
  for (const table of await tablesOf(client)) {
    rows[table.name] = 0;
    yield hashed(lineOf({ table: table.name, columns: table.columns.map(({ name }) => name) }));
    for await (const batch of batchesOf(client, table)) {
      rows[table.name]! += batch.length;
      yield hashed(batch.map((row) => `${row}\n`).join(""));
    }
  }
  yield lineOf({ rows, sha256: hash.digest("hex") } satisfies BackupFoot);
}

const lineOf = (value: object): string => `${JSON.stringify(value)}\n`;

async function headOf(client: pg.Client): Promise<BackupHead> {
  const { rows } = await client.query<{ name: string; now: Date }>(
    "select name, now() as now from kysely_migration order by name desc limit 1",
  );
  return { format: backupFormat, step: rows[0]!.name, takenAt: rows[0]!.now.toISOString() };
}

/** Rows as JSON, as many at once as are small. */
async function* batchesOf(client: pg.Client, { name, columns }: BackedTable): AsyncGenerator<string[]> {
  const texts = columns.map((column) => `${quoted(column.name)}::text`).join(", ");
  await client.query(
    `declare rows_of no scroll cursor for select array_to_json(array[${texts}])::text as row from ${quoted(name)}`,
  );
  for (let count = 1; ; ) {
    const { rows } = await client.query<{ row: string }>(`fetch ${count} from rows_of`);
    if (rows.length === 0) break;
    const bytes = rows.reduce((sum, { row }) => sum + row.length, 0);
    yield rows.map(({ row }) => row);
    count = Math.max(1, Math.min(batchRowsMost, Math.floor((batchBytes * rows.length) / bytes)));
  }
  await client.query("close rows_of");
}

/** So that the name, too, outlives a power cut. */
async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
