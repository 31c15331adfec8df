import { randomUUID } from "node:crypto";
import { hashOf, randomSecret } from "../../services/access/secrets.ts";
import type { Store } from "../../services/store/store.ts";
import type { CrewKey, Role } from "../../shared/contracts/access.ts";
import { acting, madeBy } from "./acting.ts";

/** A person with these roles, and a token of theirs as a program carries it. */
export async function tokenOf(
  store: Store,
  roles: readonly Role[],
  crews: readonly CrewKey[] = [],
): Promise<{ readonly personId: string; readonly headers: { readonly authorization: string } }> {
  const name = `t${randomUUID()}`;
  const added = await store.addPerson(
    { name, shownName: name, roles: [...roles], crews: [...crews] as never },
    { hash: hashOf(randomSecret()), forS: 60 },
    acting,
  );
  if (added.outcome !== "made") throw new Error(added.outcome);
  const { id: personId } = added.thing.person;
  const secret = randomSecret();
  const token = { personId, hash: hashOf(secret), name, roles, readOnly: false, forS: 86_400 };
  await madeBy(store.addToken(token, acting));
  return { personId, headers: { authorization: `Bearer ${secret}` } };
}
