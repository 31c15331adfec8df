/** Our choice. */
const everyMs = 15_000;
/** Workers that start together do not look at the same moment for ever. */
const jitter = 0.2;

/** Looks now, and from then on again and again until it is closed; a look that fails, the first one too, is told and the next one comes all the same. */
export async function lookAfter(look: () => Promise<void>, onError: (error: Error) => void): Promise<() => void> {
  let timer: NodeJS.Timeout | undefined;
  let closed = false;
  const next = () => {
    if (!closed) timer = setTimeout(again, everyMs * (1 - jitter + 2 * jitter * Math.random()));
  };
  const again = () => look().catch(onError).then(next);
  await again();
  return () => {
    closed = true;
    clearTimeout(timer);
  };
}
