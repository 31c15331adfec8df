import type { Route } from "./route.ts";
import { applicationRecordRoutes } from "./routes/applicationRecords.ts";
import { caseSetRoutes } from "./routes/caseSets.ts";
import { fieldworkRoutes } from "./routes/fieldwork.ts";
import { healthRoutes } from "./routes/health.ts";
import { operationRoutes } from "./routes/operations.ts";
import { planRequestRoutes } from "./routes/planRequests.ts";
import { planRoutes } from "./routes/plans.ts";
import { studyRoutes } from "./routes/studies.ts";
import { windowRoutes } from "./routes/windows.ts";

export const routeTable: readonly Route[] = [
  ...healthRoutes,
  ...operationRoutes,
  ...planRequestRoutes,
  ...planRoutes,
  ...fieldworkRoutes,
  ...applicationRecordRoutes,
  ...windowRoutes,
  ...caseSetRoutes,
  ...studyRoutes,
];
