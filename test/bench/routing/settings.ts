import type { SearchSettings } from "../../../services/solver/solve.ts";
import type { RoutingInstance } from "./instance.ts";

/** What the tours are judged by: their cost as the family has it, or the fewest routes and then their real distance. */
export type Objective = "distance" | "vehicles";

/** How the search goes on research instances: all our choice, by trial. Every vehicle is like the next, and nearly always everything is served. */
export function searchSettings(family: RoutingInstance["family"], objective: Objective): Partial<SearchSettings> {
  const wholeShare = 0.05;
  // Only where vehicles differ is there something to exchange.
  const exchangeShare = family === "fleet" || family === "depots" ? 0.02 : 0;
  // Much is left out, and what would pay is far from what is done.
  if (family === "prize") return { wholeShare, exchangeShare, openShare: 0.3 };
  // The cost of vehicles is the most of what a stop costs, and distances are to be found all the same.
  if (objective === "vehicles")
    return { wholeShare, exchangeShare, openShare: 0, firstTemperature: 0.02, lastTemperature: 0.0002 };
  return { wholeShare, exchangeShare, openShare: 0 };
}
