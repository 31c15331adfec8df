import { z } from "zod";

export const aliveSchema = z.object({ status: z.literal("alive") });

export const readySchema = z.object({
  status: z
    .enum(["ready", "degraded"])
    .describe("degraded: all can be read and asked for, but what is asked for is begun only when the queue is there"),
  database: z.literal("answers"),
  queue: z.enum(["answers", "doesNotAnswer"]),
});
