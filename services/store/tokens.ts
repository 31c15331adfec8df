import type { Kysely, Selectable } from "kysely";
import type { Role } from "../../shared/contracts/access.ts";
import { type Token, tokenSchema } from "../../shared/contracts/tokens.ts";
import type { Acting, Made } from "./acting.ts";
import { audit } from "./audit.ts";
import { once } from "./once.ts";
import { inSeconds, now } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface TokenToAdd {
  readonly personId: string;
  readonly hash: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly readOnly: boolean;
  readonly forS: number;
}

export interface TokenStore {
  addToken(token: TokenToAdd, acting: Acting): Promise<Made<Token>>;
  /** Newest first; of others than people none. */
  tokensOf(personId: string): Promise<Token[]>;
  /** Null where the person has no such token. Revoking twice changes nothing. */
  revokeToken(personId: string, tokenId: string, acting: Acting): Promise<Token | null>;
}

export function createTokens(db: Kysely<Tables>): TokenStore {
  return {
    addToken: ({ personId, hash, name, roles, readOnly, forS }, acting) =>
      db.transaction().execute(async (tx) => {
        const made = await once(tx, acting, async (id) => {
          await tx
            .insertInto("tokens")
            .values({
              id,
              hash,
              person_id: personId,
              name,
              roles: [...roles],
              read_only: readOnly,
              expires_at: inSeconds(forS),
            })
            .execute();
          await audit(tx, acting, { thingId: id, details: { name, roles, readOnly } });
        });
        if (made.outcome === "otherCall") return made;
        const row = await tx.selectFrom("tokens").selectAll().where("id", "=", made.id).executeTakeFirstOrThrow();
        return { outcome: made.outcome, thing: told(row) };
      }),

    async tokensOf(personId) {
      const rows = await db
        .selectFrom("tokens")
        .selectAll()
        .where("person_id", "=", personId)
        .orderBy("created_at", "desc")
        .orderBy("id")
        .execute();
      return rows.map(told);
    },

    revokeToken: (personId, tokenId, acting) =>
      db.transaction().execute(async (tx) => {
        const row = await tx
          .selectFrom("tokens")
          .selectAll()
          .where("id", "=", tokenId)
          .where("person_id", "=", personId)
          .forUpdate()
          .executeTakeFirst();
        if (!row) return null;
        if (row.revoked_at !== null) return told(row);
        await audit(tx, acting, { thingId: tokenId, details: { name: row.name } });
        const revoked = await tx
          .updateTable("tokens")
          .set({ revoked_at: now })
          .where("id", "=", tokenId)
          .returningAll()
          .executeTakeFirstOrThrow();
        return told(revoked);
      }),
  };
}

function told(row: Selectable<Tables["tokens"]>): Token {
  return tokenSchema.parse({
    id: row.id,
    name: row.name,
    roles: row.roles,
    readOnly: row.read_only,
    createdAt: row.created_at.toISOString(),
    expiresAt: row.expires_at.toISOString(),
    revokedAt: row.revoked_at?.toISOString() ?? null,
    lastUsedAt: row.last_used_at?.toISOString() ?? null,
  });
}
