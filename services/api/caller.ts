import type { Request } from "express";
import type { CrewKey, Role } from "../../shared/contracts/access.ts";
import type { ActorKind } from "../store/acting.ts";
import { accessTable, type Caller, type May, personOnly } from "./access.ts";

/** Whoever calls. */
export interface Actor {
  readonly kind: Exclude<ActorKind, "service">;
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
  /** The crews that are its own. */
  readonly crews: readonly CrewKey[];
  /** Tokens may be for less than their roles: only reading. */
  readonly readOnly: boolean;
}

/** `refused`: something was shown that does not hold (any more). `forged`: by a session's cookie, but not from our own page. */
export type Authenticated =
  | { readonly status: "known"; readonly actor: Actor }
  | { readonly status: "nobody" | "refused" | "forged" };

export type Authenticate = (request: Request) => Promise<Authenticated>;

/** What a caller may do with a route: the most that one of its roles may. */
export function mayCall(routeId: string, actor: Actor | null): May {
  const row = accessTable[routeId];
  if (row === undefined || (actor?.kind === "token" && personOnly.has(routeId))) return "no";
  const known: readonly Caller[] = actor === null ? [] : actor.kind === "crewLink" ? ["crewLink"] : actor.roles;
  // Whoever is known may do what anybody may.
  const callers: readonly Caller[] = ["nobody", ...known];
  const may = callers.map((caller) => row[caller]);
  return may.includes("yes") ? "yes" : may.includes("own") ? "own" : "no";
}

export function isOwn(actor: Actor, params: { readonly operationId?: string; readonly crewId?: string }): boolean {
  return actor.crews.some(({ operationId, crewId }) => operationId === params.operationId && crewId === params.crewId);
}
