import type { SessionFacts } from "../../../../shared/contracts/session.ts";
import { forgetOthers } from "./keptDays.ts";
import { phoneStore } from "./phoneStore.ts";

const keptAs = "calmhour.crewSession";

/** Whether somebody of a crew works here, so that the day must be there without a network. */
export const isOfCrew = (session: SessionFacts | null | undefined): session is SessionFacts =>
  (session?.crews.length ?? 0) > 0;

/** Who was signed in when the server was last heard; without what calls are let in by. */
export function keptSession(): SessionFacts | null {
  const text = localStorage.getItem(keptAs);
  return text === null ? null : (JSON.parse(text) as SessionFacts);
}

/** To be told of every beginning and end of a session. The days of crews that are not the present caller's are forgotten; reports that wait stay. */
export function keepSession(session: SessionFacts | null): void {
  if (isOfCrew(session)) localStorage.setItem(keptAs, JSON.stringify({ ...session, csrfToken: null }));
  else localStorage.removeItem(keptAs);
  phoneStore()
    .then((store) => forgetOthers(store, session?.crews ?? []))
    // Without a store nothing was kept.
    .catch(() => undefined);
}

/** Whether a crew's day was shown in this browser before, so that reports may wait in it and its screens are kept. */
export const worksOffline = (): boolean => navigator.serviceWorker?.controller != null;
