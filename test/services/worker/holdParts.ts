import { connectQueue } from "../../../services/queue/connect.ts";
import { partQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { startPartWorker } from "../../../services/worker/partWorker.ts";

/** Run as a process of its own by the tests: a worker of parts, until it is killed. */
const [databaseUrl, redisUrl, atOnce] = process.argv.slice(2);
const onError = (error: Error) => process.stderr.write(`${error.message}\n`);
const store = await connectStore({ databaseUrl: databaseUrl!, onConnectionError: onError });
const queue = await connectQueue({
  kind: partQueue(Number(atOnce)),
  databaseUrl: databaseUrl!,
  redisUrl: redisUrl || null,
  onConnectionError: onError,
});
await startPartWorker({
  store,
  queue,
  threadScript: new URL("./threads/gatedPart.ts", import.meta.url),
  conclude: (_input, parts) => ({ status: "done", result: parts }),
  onError,
});
process.stdout.write("ready\n");
