import { type Kysely, type Migration, Migrator, sql } from "kysely";
import { operationsAndPlans } from "./migrations/0001-operations-and-plans.ts";
import { caseSetsAndStudies } from "./migrations/0002-case-sets-and-studies.ts";
import { livesOfPlans } from "./migrations/0003-lives-of-plans.ts";
import { people } from "./migrations/0004-people.ts";
import { partsOfOperations } from "./migrations/0005-parts-of-operations.ts";
import { turns } from "./migrations/0006-turns.ts";
import { fieldwork } from "./migrations/0007-fieldwork.ts";

/**
 * Forward only: a step that was released is never changed; what must go back is another step forward. A step stands for the tables of its own time, not of today's: hence no table
 * types in them.
 */
const migrations: Record<string, Migration> = {
  "0001-operations-and-plans": { up: operationsAndPlans },
  "0002-case-sets-and-studies": { up: caseSetsAndStudies },
  "0003-lives-of-plans": { up: livesOfPlans },
  "0004-people": { up: people },
  "0005-parts-of-operations": { up: partsOfOperations },
  "0006-turns": { up: turns },
  "0007-fieldwork": { up: fieldwork },
};

/** The last step. */
export const latestMigration = Object.keys(migrations).sort().at(-1)!;

export const isKnownStep = (step: string): boolean => step in migrations;

/** The store's tables were made by a program that knows more than this one, which could only harm them. */
export class NewerStore extends Error {
  constructor(step: string) {
    super(
      `the store was made by a newer Calmhour (this one does not know the step ${step} of its tables); run that one, or restore a backup of its time`,
    );
    this.name = "NewerStore";
  }
}

/** Kysely takes an advisory lock in the transaction, so that processes that start together do not step on each other. `until`: no further than this step. */
export async function migrate<T>(db: Kysely<T>, until?: string): Promise<void> {
  await refuseNewer(db);
  const migrator = new Migrator({ db, provider: { getMigrations: async () => migrations } });
  const { error } = await (until === undefined ? migrator.migrateToLatest() : migrator.migrateTo(until));
  if (error) throw error;
}

async function refuseNewer<T>(db: Kysely<T>): Promise<void> {
  const { rows: there } = await sql<{
    there: boolean;
  }>`select to_regclass('kysely_migration') is not null as there`.execute(db);
  if (!there[0]?.there) return;
  const { rows } = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(db);
  const unknown = rows.find(({ name }) => !(name in migrations));
  if (unknown) throw new NewerStore(unknown.name);
}
