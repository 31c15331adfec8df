import { z } from "zod";

/** In every answer that is a list. */
export const nextSchema = z
  .string()
  .nullable()
  .describe("`cursor` of the call that tells what follows; null: nothing follows");
