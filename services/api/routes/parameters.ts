import { z } from "zod";
import { operationKeySchema } from "../../../shared/contracts/operations.ts";
import { planKeySchema } from "../../../shared/contracts/planRequests.ts";

export const none = z.object({});
export const operationParams = z.object({ operationId: operationKeySchema });
export const requestParams = z.object({ requestId: planKeySchema });
export const planParams = z.object({ planId: planKeySchema });
