import type { Publication } from "../../shared/contracts/plans.ts";
import type { Wanted } from "../views/viewMaker.ts";
import { viewOfPlan } from "./planViews.ts";
import { beingMade, nothingPublished, refuse } from "./problems.ts";
import type { Answer, ApiParts } from "./route.ts";

interface CrewDayAddress {
  readonly operationId: string;
  readonly crewId: string;
  readonly date: string;
}

/** What crews have been told last of one of their days. */
export async function publishedDay(
  parts: ApiParts,
  day: CrewDayAddress,
  wantedOf: (day: CrewDayAddress, publication: Publication) => Wanted,
): Promise<Answer> {
  const publication = await parts.store.latestPublication(day.operationId);
  if (publication === null) return nothingPublished;
  const view = await viewOfPlan(parts, publication.planId, wantedOf(day, publication));
  if (view === "busy") return beingMade;
  if (view === null) return refuse(404, `Crew ${day.crewId} does not go out on ${day.date}, as published.`, []);
  return { kind: "view", view };
}
