/** Null when it takes longer; what comes of it then is whoever else's waits for it. */
export async function within<Thing>(limitMs: number, work: Promise<Thing>): Promise<Thing | null> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), limitMs);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}
