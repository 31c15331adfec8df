import { connectQueue } from "../../../services/queue/connect.ts";
import { planQueue } from "../../../services/queue/queue.ts";

/** Run as a process of its own by the tests: takes a request, and holds it until it is killed. */
const [databaseUrl, redisUrl] = process.argv.slice(2);
const queue = await connectQueue({
  kind: planQueue,
  databaseUrl: databaseUrl!,
  redisUrl: redisUrl || null,
  onConnectionError: () => undefined,
});
await queue.process(async (requestId) => {
  process.stdout.write(`${requestId}\n`);
  return new Promise(() => undefined);
});
