import { randomUUID } from "node:crypto";
import { type Kysely, sql } from "kysely";
import { createApplicationRecords } from "./applicationRecords.ts";
import { createCaseSets } from "./caseSets.ts";
import type { ChangeFeed } from "./changeFeed.ts";
import { changeOperation } from "./changeOperation.ts";
import { createDeadLetters } from "./deadLetters.ts";
import { importOperation } from "./importOperation.ts";
import { latestParts } from "./operationParts.ts";
import { document, latestVersion, operationVersions } from "./operationVersions.ts";
import { createPeopleStore } from "./peopleStore.ts";
import { createPlanRequests } from "./planRequests.ts";
import { createPlans } from "./plans.ts";
import { createPublications } from "./publications.ts";
import { createReplans } from "./replans.ts";
import { toSummary, toVersion } from "./rows.ts";
import { createStanding, type StandingStore } from "./standing.ts";
import type { Store } from "./store.ts";
import { everything } from "./stretch.ts";
import { createStudies } from "./studies.ts";
import type { Tables } from "./tables.ts";
import { versionsOf } from "./versionList.ts";
import { createWorkReports } from "./workReports.ts";

export function createPostgresStore(db: Kysely<Tables>, changes: ChangeFeed, poolUse: StandingStore["poolUse"]): Store {
  const versions = () => operationVersions(db);

  return {
    ...createPlanRequests(db),
    ...createCaseSets(db),
    ...createStudies(db),
    ...createDeadLetters(db),
    ...createPlans(db),
    ...createPublications(db),
    ...createStanding(db, poolUse),
    ...createPeopleStore(db),
    ...createWorkReports(db),
    ...createReplans(db),
    ...createApplicationRecords(db),

    importOperation: (operation, acting) => importOperation(db, operation, randomUUID(), acting),

    changeOperation: (operationId, judge, acting, details) => changeOperation(db, operationId, judge, acting, details),

    latestParts: (operationId, names) => latestParts(db, operationId, names),

    versionsOf: (operationId, stretch) => versionsOf(db, operationId, stretch),

    async listOperations({ most, after, text } = { ...everything, text: null }) {
      const rows = await versions()
        .distinctOn("o.name")
        .where("v.derived", "=", false)
        .$if(after !== null, (query) => query.where("o.name", ">", after))
        .$if(text !== null, (query) => query.where(sql<boolean>`strpos(lower(o.name), lower(${text})) > 0`))
        .limit(most)
        .orderBy("o.name")
        .orderBy("v.version", "desc")
        .execute();
      return rows.map(toSummary);
    },

    async operationSummary(operationId) {
      const row = await latestVersion(db, operationId).executeTakeFirst();
      return row ? toSummary(row) : null;
    },

    async latestOperation(operationId) {
      const row = await latestVersion(db, operationId).select(document).executeTakeFirst();
      return row ? toVersion(row) : null;
    },

    async operationVersion(operationId, version) {
      const row = await versions()
        .select(document)
        .where("o.id", "=", operationId)
        .where("v.version", "=", version)
        .executeTakeFirst();
      return row ? toVersion(row) : null;
    },

    watch: (id, onChange) => changes.watch(id, onChange),

    async close() {
      await changes.close();
      await db.destroy();
    },
  };
}
