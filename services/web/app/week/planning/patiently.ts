import { Refusal } from "../../api/call.ts";

const triesMost = 10;
const waitMs = 2_000;

/** Asks again where the server has too much to do at the moment: what was too late for one answer is ready for the next. */
export async function patiently<Value>(asking: () => Promise<Value>, signal?: AbortSignal): Promise<Value> {
  for (let tries = 1; ; tries++) {
    try {
      return await asking();
    } catch (error) {
      const isBusy = error instanceof Refusal && error.status === 503;
      if (!isBusy || tries >= triesMost || signal?.aborted) throw error;
      await new Promise((resolve) => setTimeout(resolve, waitMs));
    }
  }
}
