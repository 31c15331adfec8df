import type { Conclude } from "./partWorker.ts";

export const concludeStudy: Conclude = (input) => {
  throw new Error(`not yet: ${input.kind}`);
};
