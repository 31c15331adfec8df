import { accessTable, type Caller, callers, personOnly } from "./access.ts";
import type { Authenticated } from "./caller.ts";

const callerWords: Readonly<Record<Caller, string>> = {
  nobody: "anybody",
  dispatcher: "dispatchers",
  crewLead: "crew leads",
  owner: "owners",
  administrator: "administrators",
  crewLink: "links for crews' phones",
};

/** What somebody who may not call a route is told: what it takes instead. */
export function whyRefused(routeId: string, known: Authenticated, isOfOwnCrew: boolean): string {
  switch (known.status) {
    case "nobody":
      return "Sign in first.";
    case "refused":
      return "What you signed in with holds no more: sign in again, or ask for a new link or token.";
    case "forged":
      return "By a session's cookie only our own page may change something: send its X-CSRF-Token, which GET /api/session tells, or call with a token.";
    case "known":
      if (isOfOwnCrew) return "This is for your own crews only.";
      if (known.actor.kind === "token" && personOnly.has(routeId)) {
        return "Tokens may not do this: sign in with name and password.";
      }
      return `This is not yours to see or do: it is for ${whoMay(routeId)}.`;
  }
}

function whoMay(routeId: string): string {
  const may = callers.filter((caller) => accessTable[routeId]?.[caller] !== "no").map((caller) => callerWords[caller]);
  const last = may.pop() ?? "nobody";
  return may.length === 0 ? last : `${may.join(", ")} and ${last}`;
}
