import type { Route } from "./route.ts";
import { caseSetRoutes } from "./routes/caseSets.ts";
import { crewDayRoutes } from "./routes/crewDays.ts";
import { healthRoutes } from "./routes/health.ts";
import { moveRoutes } from "./routes/moves.ts";
import { operationRoutes } from "./routes/operations.ts";
import { planRequestRoutes } from "./routes/planRequests.ts";
import { planRoutes } from "./routes/plans.ts";
import { publicationRoutes } from "./routes/publications.ts";
import { studyRoutes } from "./routes/studies.ts";
import { windowRoutes } from "./routes/windows.ts";

export const routeTable: readonly Route[] = [
  ...healthRoutes,
  ...operationRoutes,
  ...planRequestRoutes,
  ...planRoutes,
  ...moveRoutes,
  ...publicationRoutes,
  ...crewDayRoutes,
  ...windowRoutes,
  ...caseSetRoutes,
  ...studyRoutes,
];
