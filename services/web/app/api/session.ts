import type { SessionFacts } from "../../../../shared/contracts/session.ts";
import { ask, get, knowCsrf, SignedOut } from "./call.ts";

async function begun(session: Promise<SessionFacts>): Promise<SessionFacts> {
  const facts = await session;
  knowCsrf(facts.csrfToken);
  return facts;
}

// Without an Idempotency-Key: what begins a session is no call of somebody who is known.
const begin = async (path: string, body: unknown): Promise<SessionFacts> =>
  begun(ask<SessionFacts>(path, { method: "POST", body }).then((answered) => answered.body));

/** Null: nobody has signed in. */
export function fetchSession(): Promise<SessionFacts | null> {
  return begun(get<SessionFacts>("/api/session")).catch((error: unknown) => {
    if (error instanceof SignedOut) return null;
    throw error;
  });
}

export const signIn = (name: string, password: string) => begin("/api/session", { name, password });
export const makeFirstPerson = (link: string, name: string, shownName: string, password: string) =>
  begin("/api/first-start", { link, name, shownName, password });
export const setPassword = (link: string, password: string) => begin("/api/password-links/use", { link, password });
export const changePassword = (current: string, password: string) =>
  begin("/api/session/password", { current, password });
export const openCrewLink = (link: string) => begin("/api/crew-links/open", { link });
export const signOut = () => ask("/api/session", { method: "DELETE" });
