import { z } from "zod";

/** One thing that is wrong with what was sent: where, what stands there, what was expected. */
export const faultSchema = z.object({
  path: z.array(z.union([z.string(), z.number()])).describe("members and positions from the outside in"),
  value: z.unknown().describe("what was found there"),
  expected: z.string().min(1),
});

/** Problem details after RFC 9457, section 3; `faults` and `breaches` are extension members (section 3.2). */
export const problemSchema = z.object({
  type: z.string().describe("about:blank, or a relative address that names the kind of problem"),
  title: z.string().min(1),
  status: z.number().int().min(400).max(599),
  detail: z.string().optional(),
  instance: z.string().optional().describe("the address that was asked for"),
  faults: z.array(faultSchema).optional().describe("everything that is wrong with what was sent"),
  breaches: z
    .array(z.looseObject({ rule: z.string().min(1), sentence: z.string().min(1) }))
    .optional()
    .describe("rules that the plan breaks, the first of them"),
});

export const problemMediaType = "application/problem+json";

export type Fault = z.infer<typeof faultSchema>;
export type Problem = z.infer<typeof problemSchema>;
