import type { Request, Response } from "express";
import { type Problem, problemMediaType } from "../../shared/contracts/problem.ts";
import { contentDisposition } from "./contentDisposition.ts";
import { namesIt } from "./etags.ts";
import type { MediaType } from "./route.ts";
import type { Rendered } from "./viewCache.ts";

export function sendProblem(request: Request, response: Response, told: Problem, retryAfterS?: number): void {
  if (retryAfterS !== undefined) response.set("retry-after", String(retryAfterS));
  response
    .status(told.status)
    .set("cache-control", "no-store")
    .type(problemMediaType)
    .send(JSON.stringify({ ...told, instance: request.originalUrl }));
}

/** A strong tag names the bytes as they are sent: RFC 9110, section 8.8.1. */
export function sendView(
  request: Request,
  response: Response,
  { plain, gzipped, etag, fileName }: Rendered,
  mediaType: MediaType,
): void {
  const isGzip = request.acceptsEncodings("gzip") === "gzip";
  const own = `${etag}${isGzip ? gzipSuffix : ""}`;
  response.set({ "cache-control": "private, no-cache", vary: "accept-encoding", etag: `"${own}"` });
  if (namesIt(request.get("if-none-match"), own)) return void response.status(304).end();
  if (isGzip) response.set("content-encoding", "gzip");
  if (fileName !== undefined) response.set("content-disposition", contentDisposition(fileName));
  const charset = mediaType === "application/pdf" ? "" : "; charset=utf-8";
  response.set("content-type", `${mediaType}${charset}`).end(isGzip ? gzipped : plain);
}

export const gzipSuffix = "-gzip";
