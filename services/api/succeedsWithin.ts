import { within } from "../threads/within.ts";

/** False when the work fails or takes longer; its end is then nobody's. */
export async function succeedsWithin(limitMs: number, work: Promise<unknown>): Promise<boolean> {
  const succeeds = work.then(
    () => true,
    () => false,
  );
  return (await within(limitMs, succeeds)) ?? false;
}
