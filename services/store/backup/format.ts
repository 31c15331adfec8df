import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { pipeline } from "node:stream/promises";
import { createGunzip } from "node:zlib";
import { z } from "zod";

/**
 * A backup is a text of JSON lines, gzipped: a head; then for each table a line that names it and its columns, followed by its rows, each a list of the columns' texts as Postgres writes them,
 * null where there is none; then a foot with the numbers of rows and the SHA-256 of all that stands before it.
 */
export const backupFormat = "calmhour backup 1";

export const headSchema = z.strictObject({
  format: z.literal(backupFormat),
  /** The last step that had made the tables (migrations.ts). */
  step: z.string().min(1),
  takenAt: z.iso.datetime(),
});
export const tableSchema = z.strictObject({ table: z.string(), columns: z.array(z.string()).min(1) });
const rowSchema = z.array(z.string().nullable());
export const footSchema = z.strictObject({
  rows: z.record(z.string(), z.number().int().min(0)),
  sha256: z.string().length(64),
});

export type BackupHead = z.infer<typeof headSchema>;
export type BackupFoot = z.infer<typeof footSchema>;
export type BackupRow = z.infer<typeof rowSchema>;

export type BackupPiece =
  | { readonly kind: "head"; readonly head: BackupHead }
  | { readonly kind: "table"; readonly table: string; readonly columns: readonly string[] }
  | { readonly kind: "row"; readonly row: BackupRow; readonly bytes: number }
  | { readonly kind: "foot"; readonly foot: BackupFoot };

/** The file is no backup, or not whole. */
export class FaultyBackup extends Error {
  constructor(what: string) {
    super(what);
    this.name = "FaultyBackup";
  }
}

/** Hands over piece after piece, and throws when something is wrong: at the end at the latest, so nothing may be kept before that. */
export async function readBackup(
  file: string,
  take: (piece: BackupPiece) => Promise<void> | void,
): Promise<BackupFoot> {
  const hash = createHash("sha256");
  const counts = new Map<string, number>();
  let table: { readonly name: string; readonly columns: number } | null = null;
  let hasHead = false;
  let foot: BackupFoot | null = null;

  const takeLine = (line: Buffer) => {
    if (foot) throw new FaultyBackup("something follows the end");
    const said = jsonOf(line);
    if (!hasHead) {
      const head = headSchema.safeParse(said);
      if (!head.success) throw new FaultyBackup("it is no backup of Calmhour, or one of another format");
      hasHead = true;
      hash.update(line).update("\n");
      return take({ kind: "head", head: head.data });
    }
    if (Array.isArray(said)) {
      const row = rowSchema.safeParse(said);
      if (!row.success || !table || row.data.length !== table.columns)
        throw new FaultyBackup("a row is not as its table");
      counts.set(table.name, counts.get(table.name)! + 1);
      hash.update(line).update("\n");
      return take({ kind: "row", row: row.data, bytes: line.length });
    }
    const begun = tableSchema.safeParse(said);
    if (begun.success) {
      table = { name: begun.data.table, columns: begun.data.columns.length };
      if (counts.has(table.name)) throw new FaultyBackup(`table ${table.name} comes twice`);
      counts.set(table.name, 0);
      hash.update(line).update("\n");
      return take({ kind: "table", table: begun.data.table, columns: begun.data.columns });
    }
    const ended = footSchema.safeParse(said);
    if (!ended.success) throw new FaultyBackup("a line is neither a table nor a row");
    foot = ended.data;
    if (foot.sha256 !== hash.digest("hex")) throw new FaultyBackup("it was changed after it was made");
    if (JSON.stringify(sorted(foot.rows)) !== JSON.stringify(sorted(Object.fromEntries(counts)))) {
      throw new FaultyBackup("the numbers of rows are not those that it tells");
    }
    return take({ kind: "foot", foot });
  };

  // What ends the reading is thrown, not that the file was let go of for it.
  let why: { readonly error: unknown } | null = null;
  try {
    await pipeline(createReadStream(file), createGunzip(), async (bytes: AsyncIterable<Buffer>) => {
      try {
        for await (const line of linesOf(bytes)) await takeLine(line);
      } catch (error) {
        why = { error };
        throw error;
      }
    });
  } catch (thrown) {
    const { error } = why ?? { error: thrown };
    const { code } = error as { code?: unknown };
    // zlib's, of a file that is no gzip or ends in the middle.
    if (typeof code === "string" && code.startsWith("Z_")) throw new FaultyBackup("it is not whole, or no gzip file");
    throw error;
  }
  if (!foot) throw new FaultyBackup("it ends in the middle");
  return foot;
}

const sorted = (rows: Readonly<Record<string, number>>) => Object.entries(rows).sort(([a], [b]) => (a < b ? -1 : 1));

function jsonOf(line: Buffer): unknown {
  try {
    return JSON.parse(line.toString("utf8"));
  } catch {
    throw new FaultyBackup("a line is no JSON");
  }
}

/** By line feeds alone: JSON may hold other characters that are line ends elsewhere, such as U+2028. */
async function* linesOf(bytes: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let waiting: Buffer[] = [];
  for await (const chunk of bytes) {
    let from = 0;
    for (let at = chunk.indexOf(10); at !== -1; at = chunk.indexOf(10, from)) {
      yield Buffer.concat([...waiting, chunk.subarray(from, at)]);
      waiting = [];
      from = at + 1;
    }
    if (from < chunk.length) waiting.push(chunk.subarray(from));
  }
  if (waiting.length > 0) yield Buffer.concat(waiting);
}
