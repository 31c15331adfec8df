import type { Route } from "./route.ts";
import { applicationRecordRoutes } from "./routes/applicationRecords.ts";
import { auditRoutes } from "./routes/audit.ts";
import { calendarRoutes } from "./routes/calendar.ts";
import { caseSetRoutes } from "./routes/caseSets.ts";
import { crewDayRoutes } from "./routes/crewDays.ts";
import { crewLinkRoutes } from "./routes/crewLinks.ts";
import { deadLetterRoutes } from "./routes/deadLetters.ts";
import { fieldworkRoutes } from "./routes/fieldwork.ts";
import { healthRoutes } from "./routes/health.ts";
import { mapRoutes } from "./routes/maps.ts";
import { moveRoutes } from "./routes/moves.ts";
import { operationFileRoutes } from "./routes/operationFiles.ts";
import { operationRoutes } from "./routes/operations.ts";
import { paperRoutes } from "./routes/papers.ts";
import { peopleRoutes } from "./routes/people.ts";
import { planLockRoutes } from "./routes/planLocks.ts";
import { planRequestRoutes } from "./routes/planRequests.ts";
import { planRoutes } from "./routes/plans.ts";
import { publicationRoutes } from "./routes/publications.ts";
import { recordPaperRoutes } from "./routes/recordPapers.ts";
import { replanRoutes } from "./routes/replans.ts";
import { resourceRoutes } from "./routes/resources.ts";
import { sessionRoutes } from "./routes/session.ts";
import { studyRoutes } from "./routes/studies.ts";
import { tokenRoutes } from "./routes/tokens.ts";
import { windowRoutes } from "./routes/windows.ts";

export const routeTable: readonly Route[] = [
  ...healthRoutes,
  ...sessionRoutes,
  ...peopleRoutes,
  ...tokenRoutes,
  ...crewLinkRoutes,
  ...auditRoutes,
  ...operationRoutes,
  ...operationFileRoutes,
  ...resourceRoutes,
  ...planRequestRoutes,
  ...replanRoutes,
  ...planRoutes,
  ...moveRoutes,
  ...planLockRoutes,
  ...publicationRoutes,
  ...crewDayRoutes,
  ...mapRoutes,
  ...paperRoutes,
  ...calendarRoutes,
  ...fieldworkRoutes,
  ...applicationRecordRoutes,
  ...recordPaperRoutes,
  ...windowRoutes,
  ...caseSetRoutes,
  ...studyRoutes,
  ...deadLetterRoutes,
];
