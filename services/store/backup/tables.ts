import type pg from "pg";

export interface BackedTable {
  readonly name: string;
  readonly columns: readonly BackedColumn[];
}

export interface BackedColumn {
  readonly name: string;
  /** As SQL writes it. */
  readonly type: string;
  /** Counts by itself, so that it has to be told where to go on. */
  readonly counts: boolean;
}

/**
 * What is not in a backup: what opens doors and is soon stale. After a restore people sign in anew, and crews get new links; else a link that was withdrawn since would open again. A
 * table that is not named here is in.
 */
export const leftOut = ["sessions", "one_time_links", "crew_links", "sign_in_attempts"];
/** How the tables have come about is told by the backup's head. */
const ofMigrations = ["kysely_migration", "kysely_migration_lock"];

/** Asked of the catalogue, so that a table that somebody adds is in without anybody thinking of it. */
export async function tablesOf(client: pg.ClientBase): Promise<BackedTable[]> {
  const { rows } = await client.query<{ table: string; column: string; type: string; counts: boolean }>(
    `select c.relname as "table", a.attname as "column", format_type(a.atttypid, a.atttypmod) as type,
            a.attidentity <> '' or coalesce(pg_get_expr(d.adbin, d.adrelid) like 'nextval(%', false) as counts
       from pg_class c
       join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped and a.attgenerated = ''
       left join pg_attrdef d on d.adrelid = c.oid and d.adnum = a.attnum
      where c.relkind = 'r' and c.relnamespace = current_schema()::regnamespace and c.relname <> all ($1)
      order by c.relname, a.attnum`,
    [[...leftOut, ...ofMigrations]],
  );
  const tables = new Map<string, BackedColumn[]>();
  for (const { table, column, type, counts } of rows) {
    const columns = tables.get(table) ?? [];
    tables.set(table, columns);
    columns.push({ name: column, type, counts });
  }
  return [...tables].map(([name, columns]) => ({ name, columns }));
}

/** So that texts of values mean the same wherever they are read. */
export const plainTexts = `
  set local datestyle = 'ISO, YMD'; set local timezone = 'UTC'; set local intervalstyle = 'postgres';
  set local bytea_output = 'hex'; set local extra_float_digits = 1; set local statement_timeout = 0; set local lock_timeout = 0`;

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
