import type { AccessSettings } from "../../services/access/accessSettings.ts";
import type { Actor } from "../../services/api/caller.ts";
import { actingAsService, type Made } from "../../services/store/acting.ts";
import { roles } from "../../shared/contracts/access.ts";

export const acting = actingAsService("test");

/** What a call has made that was sent only once. */
export async function madeBy<Thing>(call: Promise<Made<Thing>>): Promise<Thing> {
  const made = await call;
  if (made.outcome !== "made") throw new Error(made.outcome);
  return made.thing;
}

/** Somebody who may do what any person may, for tests that are about other things. */
export const everybody: Actor = {
  kind: "person",
  id: "everybody",
  name: "everybody",
  roles,
  crews: [],
  readOnly: false,
};

/** What signing in stands on, for tests that are about other things. */
export const access: AccessSettings = { secret: "of the tests alone, long enough", origin: null };
