/** Who changes something, for the audit trail. */
export interface Acting {
  readonly by: { readonly kind: ActorKind; readonly id: string | null; readonly name: string };
  /** Name of what is done: the route's. */
  readonly action: string;
  /** Of the call, as in the log. */
  readonly callId: string | null;
  /** Given by a caller that may send the same call twice, and so that only one of them counts. */
  readonly once: Once | null;
}

export type ActorKind = "person" | "token" | "crewLink" | "service";

export interface Once {
  readonly key: string;
  /** Of all that was asked for: another call under the same key is refused. */
  readonly digest: string;
}

/** What the service does by itself. */
export function actingAsService(action: string): Acting {
  return { by: { kind: "service", id: null, name: "Calmhour" }, action, callId: null, once: null };
}

/** What came of a call that may have been sent twice (once.ts). */
export type Made<Thing> =
  | { readonly outcome: "made" | "again"; readonly thing: Thing }
  | { readonly outcome: "otherCall" };
