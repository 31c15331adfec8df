import type { Kysely } from "kysely";
import { type AttemptStore, createAttempts } from "./attempts.ts";
import { type AuditTrailStore, createAuditTrail } from "./auditTrail.ts";
import { type CallerStore, createCallers } from "./callers.ts";
import { type CrewLinkStore, createCrewLinks } from "./crewLinks.ts";
import { createPeople, type PersonStore } from "./people.ts";
import { createSignIns, type SignInStore } from "./signIns.ts";
import type { Tables } from "./tables.ts";
import { createTokens, type TokenStore } from "./tokens.ts";

/** Who may sign in, by what they are known, and what they have changed. */
export interface PeopleStore
  extends CallerStore,
    AttemptStore,
    SignInStore,
    PersonStore,
    TokenStore,
    CrewLinkStore,
    AuditTrailStore {}

export function createPeopleStore(db: Kysely<Tables>): PeopleStore {
  return {
    ...createCallers(db),
    ...createAttempts(db),
    ...createSignIns(db),
    ...createPeople(db),
    ...createTokens(db),
    ...createCrewLinks(db),
    ...createAuditTrail(db),
  };
}
