import type { Request, Response } from "express";
import { type Problem, problemMediaType } from "../../shared/contracts/problem.ts";

export function sendProblem(request: Request, response: Response, told: Problem, retryAfterS?: number): void {
  if (retryAfterS !== undefined) response.set("retry-after", String(retryAfterS));
  response
    .status(told.status)
    .set("cache-control", "no-store")
    .type(problemMediaType)
    .send(JSON.stringify({ ...told, instance: request.originalUrl }));
}
