import { z } from "zod";
import { caseSetKeySchema } from "../../../shared/contracts/caseSets.ts";
import { operationKeySchema } from "../../../shared/contracts/operations.ts";
import { planKeySchema } from "../../../shared/contracts/planRequests.ts";
import { studyKeySchema } from "../../../shared/contracts/studies.ts";

export const none = z.object({});
export const operationParams = z.object({ operationId: operationKeySchema });
export const requestParams = z.object({ requestId: planKeySchema });
export const planParams = z.object({ planId: planKeySchema });
export const caseSetParams = z.object({ caseSetId: caseSetKeySchema });
export const studyParams = z.object({ studyId: studyKeySchema });
export const versionSchema = z.coerce.number().int().positive().max(2_147_483_647);
