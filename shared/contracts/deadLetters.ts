import { z } from "zod";
import { operationKeySchema } from "./operations.ts";
import { studyKinds } from "./studies.ts";

export const deadLetterKinds = ["plan", "study", "run"] as const;

export const deadLetterKeySchema = z
  .string()
  .regex(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}([.](0|[1-9][0-9]{0,8}))?$/)
  .describe("id of the plan request or study; of a run the study's id, a dot and the run's number");

/** What has failed for good: nobody works it again unless it is asked for. */
export const deadLetterSchema = z.object({
  id: deadLetterKeySchema,
  kind: z.enum(deadLetterKinds).describe("run: one of a study that goes on, or has ended, without it"),
  operationId: operationKeySchema,
  operationName: z.string().min(1),
  version: z.number().int().positive().describe("the version of the operation that was worked on"),
  studyKind: z.enum(studyKinds).nullable(),
  failure: z.object({ kind: z.string().min(1), message: z.string().min(1).describe("for people") }),
  starts: z.number().int().min(0).describe("how often it was begun; of a study the most of any run"),
  failedAt: z.iso.datetime(),
});

export const deadLetterPageSchema = z.object({
  deadLetters: z.array(deadLetterSchema).describe("newest first"),
  next: z.string().nullable().describe("cursor of the next page; null: there is none"),
});

export const revivedSchema = z.object({
  id: deadLetterKeySchema,
  kind: z.enum(deadLetterKinds),
});

export type DeadLetterKind = (typeof deadLetterKinds)[number];
export type DeadLetter = z.infer<typeof deadLetterSchema>;
