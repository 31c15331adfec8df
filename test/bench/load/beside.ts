import autocannon from "autocannon";

export interface BesideServer {
  readonly origin: string;
  readonly headers: Readonly<Record<string, string>>;
  /** Answered in a millisecond or two. */
  readonly cheap: string;
  /** What takes longest to make, each asked for once, since it is kept from then on. */
  readonly heavy: readonly string[];
}

/** Our choice: as a room of dispatchers, phones and their events. */
const [connections, perSecond] = [4, 100];

/** A cheap route alone, and then while one paper after the other is made. Tells how many papers there were and what was refused. */
export async function benchBeside({ origin, headers, cheap, heavy }: BesideServer, seconds: number): Promise<boolean> {
  const measure = () =>
    autocannon({ url: origin + cheap, connections, overallRate: perSecond, duration: seconds, headers });
  await measure();
  const alone = await measure();
  let over = false;
  const tookMs: number[] = [];
  const statuses: number[] = [];
  const asking = (async () => {
    for (const path of heavy) {
      if (over) return;
      const began = performance.now();
      const answer = await fetch(origin + path, { headers });
      await answer.arrayBuffer();
      tookMs.push(performance.now() - began);
      statuses.push(answer.status);
    }
  })();
  const beside = await measure();
  over = true;
  await asking;
  const row = ({ latency }: autocannon.Result) =>
    `p50 ${latency.p50} ms, p99 ${latency.p99} ms, longest ${latency.max} ms`;
  console.log(`\n${cheap}, ${perSecond} a second`);
  console.log(`  alone                  ${row(alone)}`);
  console.log(
    `  while papers are made  ${row(beside)}; p99 ${(beside.latency.p99 / Math.max(1, alone.latency.p99)).toFixed(1)} times`,
  );
  console.log(
    `  ${tookMs.length} papers, the first in ${tookMs[0]?.toFixed(0)} ms, the longest in ${Math.max(...tookMs).toFixed(0)}`,
  );
  const wrong = [alone, beside].some(({ errors, non2xx, timeouts }) => errors + non2xx + timeouts > 0);
  return !wrong && statuses.every((status) => status === 200);
}
