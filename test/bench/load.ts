import { fork } from "node:child_process";
import { request } from "node:http";
import { fileURLToPath } from "node:url";
import autocannon from "autocannon";
import { benchBeside } from "./load/beside.ts";
import type { FromLoadServer, ToLoadServer } from "./load/server.ts";
import { median } from "./measure.ts";

export interface LoadOptions {
  readonly orders: number;
  readonly seconds: number;
  readonly connections: number;
  readonly runs: number;
}

const serverFile = fileURLToPath(new URL("./load/server.ts", import.meta.url));

interface Measured {
  readonly perSecond: number;
  readonly p50Ms: number;
  readonly p99Ms: number;
}

/** Reading a week and a crew-day beside a bare Express route that sends the same bytes, in turn, from a process of its own. False when an answer is anything but those bytes. */
export async function benchLoad({ orders, seconds, connections, runs }: LoadOptions): Promise<boolean> {
  const child = fork(serverFile, [String(orders)], { execArgv: ["--import", import.meta.resolve("tsx")] });
  const said = <Message>() =>
    new Promise<Message>((resolve, reject) => {
      child.once("message", (message) => resolve(message as Message));
      child.once("exit", (code) => reject(new Error(`the server has ended with ${code}`)));
    });
  const server = await said<FromLoadServer>();
  const isBesideGood = await benchBeside(server, seconds);
  let wrong = 0;
  console.log(`${orders} orders, ${connections} connections, ${runs} runs of ${seconds} s each, in turn; medians`);
  console.log("  view      sent      bytes   requests/s  p50 ms  p99 ms     bare/s  p50 ms  p99 ms   ratio");
  for (const { what, path } of server.views) {
    for (const encoding of ["identity", "gzip"]) {
      const headers = { ...server.headers, "accept-encoding": encoding };
      const sample = await read(server.origin + path, headers);
      const bare: ToLoadServer = {
        body: sample.body.toString("base64"),
        headers: {
          "content-type": "application/json; charset=utf-8",
          ...(encoding === "gzip" ? { "content-encoding": "gzip" } : {}),
        },
      };
      const isSet = said<"set">();
      child.send(bare);
      await isSet;
      const measure = async (url: string): Promise<Measured> => {
        const result = await autocannon({ url, connections, duration: seconds, headers });
        const bytesEach = result.throughput.total / Math.max(1, result.requests.total);
        if (result.non2xx + result.errors + result.timeouts > 0 || bytesEach < sample.body.length) wrong++;
        return { perSecond: result.requests.average, p50Ms: result.latency.p50, p99Ms: result.latency.p99 };
      };
      const ours: Measured[] = [];
      const theirs: Measured[] = [];
      for (let run = 0; run < runs; run++) {
        ours.push(await measure(server.origin + path));
        theirs.push(await measure(server.bareOrigin));
      }
      const ratio = median(ours.map(({ perSecond }, run) => perSecond / theirs[run]!.perSecond));
      console.log(
        `  ${what.padEnd(9)} ${encoding.padEnd(9)} ${String(sample.body.length).padStart(7)} ${row(ours)} ${row(theirs)}   ${ratio.toFixed(2)}`,
      );
    }
  }
  child.removeAllListeners("exit");
  const ended = new Promise((resolve) => child.once("exit", resolve));
  child.disconnect();
  await ended;
  if (wrong > 0) console.log(`${wrong} runs had answers that were not those bytes`);
  return wrong === 0 && isBesideGood;
}

function row(runs: readonly Measured[]): string {
  const of = (name: keyof Measured) => median(runs.map((run) => run[name]));
  return `${of("perSecond").toFixed(0).padStart(11)} ${of("p50Ms").toFixed(1).padStart(7)} ${of("p99Ms").toFixed(1).padStart(7)}`;
}

/** As it comes over the line: fetch would unpack it. */
function read(url: string, headers: Readonly<Record<string, string>>): Promise<{ readonly body: Buffer }> {
  return new Promise((resolve, reject) => {
    request(url, { headers }, (response) => {
      const chunks: Buffer[] = [];
      response.on("data", (chunk: Buffer) => chunks.push(chunk));
      response.on("end", () =>
        response.statusCode === 200
          ? resolve({ body: Buffer.concat(chunks) })
          : reject(new Error(`${url} answers ${response.statusCode}`)),
      );
    })
      .on("error", reject)
      .end();
  });
}
