import { fork } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import * as fc from "fast-check";
import { openApiJudge } from "../support/openApiJudge.ts";
import type { Json } from "./fuzz/arbitraryOf.ts";
import { latestEtag, requestsOf, type Sent } from "./fuzz/requests.ts";
import { type Answered, type Closed, createSender } from "./fuzz/send.ts";
import type { FromServer } from "./fuzz/server.ts";
import { countsText } from "./measure.ts";

export interface FuzzOptions {
  readonly requests: number;
  readonly seed: number;
}

const atOnce = 8;
const samplesAtOnce = 400;
/** Memory after the first tenth, when all code has been run, against the end: our choice of what is flat. */
const flatWithin = 1.25;

/** Sends requests made of the API's own document, good and bad, and judges every answer by it. True when none is wrong, nothing breaks and memory stays. */
export async function benchFuzz({ requests, seed }: FuzzOptions): Promise<boolean> {
  const script = fileURLToPath(new URL("./fuzz/server.ts", import.meta.url));
  const child = fork(script, { execArgv: ["--expose-gc", "--import", import.meta.resolve("tsx")] });
  const faults: string[] = [];
  const blame = (words: string) => {
    if (faults.length < 50) faults.push(words);
  };
  child.on("exit", (code) => blame(`the server has ended with ${code}`));
  child.on("message", (message: FromServer) => {
    if (message.kind === "error") blame(`on the server: ${message.message}`);
  });
  const next = async (kind: FromServer["kind"]): Promise<FromServer> => {
    for (;;) {
      const [message] = (await once(child, "message")) as [FromServer];
      if (message.kind === kind) return message;
    }
  };
  const { origin, known, crewLead } = await next("ready");
  const everybody = { authorization: "Bearer everybody" };
  const document = (await (await fetch(`${origin}/api/openapi.json`, { headers: everybody })).json()) as Json;
  const judge = createJudge(document);
  const params = new Map<string, string[]>(Object.entries(known!).map(([name, values]) => [name, [...values]]));
  const etags = new Map<string, string>();
  const bodies = new Map<string, string>();
  const make = requestsOf(document);
  const sender = createSender(origin!, atOnce);

  const counts = new Map<string, number>();
  const wells = new Map<string, number>();
  const statuses = new Map<number | string, number>();
  const memory: FromServer[] = [];
  const beganMs = performance.now();
  let sent = 0;
  for (let round = 0; sent < requests && child.exitCode === null; round++) {
    const batch = fc.sample(make({ params, etags, bodies }), {
      seed: seed + round,
      numRuns: Math.min(samplesAtOnce, requests - sent),
    });
    let at = 0;
    const lane = async () => {
      for (let one = batch[at++]; one !== undefined; one = batch[at++]) {
        // Most may do everything, so that what lies behind the door is reached too.
        const headers = [everybody, everybody, everybody, everybody, everybody, everybody, crewLead!, {}][at % 8]!;
        const answered = await sender.send(withEtag(one, etags), headers);
        counts.set(one.kind, (counts.get(one.kind) ?? 0) + 1);
        const status = answered === "hangs" ? answered : "closed" in answered ? answered.closed : answered.status;
        statuses.set(status, (statuses.get(status) ?? 0) + 1);
        const isWell = typeof status === "number" && status < 400;
        if (one.route !== null) wells.set(one.route, (wells.get(one.route) ?? 0) + (isWell ? 1 : 0));
        const fault = judge(one, answered);
        if (fault !== null)
          blame(
            `${one.kind}: ${one.method} ${one.path.slice(0, 200)} ${JSON.stringify(one.headers).slice(0, 200)} ${String(one.body).slice(0, 300)} -> ${fault}`,
          );
        if (answered === "hangs" || "closed" in answered) continue;
        learn(one, answered, params, etags, document);
        const { text } = answered;
        if (one.method === "GET" && answered.status === 200 && text.length < 20_000) bodies.set(one.path, text);
      }
    };
    await Promise.all(Array.from({ length: atOnce }, lane));
    sent += batch.length;
    if (memory.length < Math.floor((sent / requests) * 10) && child.exitCode === null) {
      const told = next("memory");
      child.send("memory");
      memory.push(await told);
      console.log(
        `${sent} sent, ${Math.round(sent / ((performance.now() - beganMs) / 1000))} a second; heap ${memory.at(-1)!.heapMb!.toFixed(1)} MB, whole process ${memory.at(-1)!.rssMb!.toFixed(0)} MB`,
      );
    }
  }
  sender.close();
  const [first, last] = [memory[0], memory.at(-1)];
  if (first && last && last.heapMb! > first.heapMb! * flatWithin)
    blame(`the heap has grown from ${first.heapMb} to ${last.heapMb} MB`);
  const alive = child.exitCode === null;
  child.removeAllListeners("exit");
  if (alive) {
    child.send("stop");
    await once(child, "exit");
  }
  console.log(`sent: ${countsText(counts)}`);
  console.log(`answers: ${countsText(statuses)}`);
  const never = [...wells].flatMap(([route, well]) => (well === 0 ? [route] : []));
  console.log(
    `${wells.size} routes, ${wells.size - never.length} of them answered well; never: ${never.join(", ") || "none"}`,
  );
  for (const fault of faults.slice(0, 25)) console.log(`NOT GOOD: ${fault}`);
  console.log(faults.length === 0 ? "every answer is as the document says" : `${faults.length} faults or more`);
  return faults.length === 0;
}

/** What is wrong with an answer, if anything is. */
function createJudge(document: Json) {
  const byDocument = openApiJudge(document);
  const paths = document.paths as Record<string, Json>;
  const templates = Object.keys(paths).map((template) => ({
    methods: Object.keys(paths[template]!),
    pattern: new RegExp(`^${template.replace(/\{[^}]+\}/g, "[^/]+")}$`),
  }));
  return (sent: Sent, answered: Answered | Closed | "hangs"): string | null => {
    if (answered === "hangs") return "no answer";
    // A server may hang up on what is no HTTP.
    if ("closed" in answered) return null;
    const { status, headers, text, isStream } = answered;
    if (status >= 500) return `${status} ${text.slice(0, 300)}`;
    const pathname = sent.path.split(/[?#]/)[0]!;
    const known = templates.find(({ pattern }) => pattern.test(pathname));
    if (sent.method === "HEAD" || sent.method === "OPTIONS" || status === 304) return null;
    if (known?.methods.includes(sent.method.toLowerCase())) {
      // What Node itself refuses, before any of us sees it, has no body: RFC 6585 and llhttp.
      if ((status === 400 || status === 431) && text === "") return null;
      try {
        byDocument(sent.method, pathname, { status, headers } as Response, isStream ? "" : text);
        return null;
      } catch (error) {
        return (error as Error).message.slice(0, 400);
      }
    }
    const isPage = status < 400 && !pathname.startsWith("/api");
    const isProblem =
      status >= 400 && ((headers.get("content-type") ?? "").startsWith("application/problem+json") || text === "");
    return isPage || isProblem ? null : `${status} ${headers.get("content-type")} ${text.slice(0, 200)}`;
  };
}

/** Names of things that have come to be, so that later requests go to them. */
function learn(
  sent: Sent,
  { headers, status }: Answered,
  params: Map<string, string[]>,
  etags: Map<string, string>,
  document: Json,
): void {
  const etag = headers.get("etag");
  if (etag !== null) etags.set(sent.path, etag);
  for (const first of etags.size > 1_000 ? [...etags.keys()].slice(0, 100) : []) etags.delete(first);
  const location = headers.get("location");
  if (location === null || status >= 300) return;
  for (const template of Object.keys(document.paths as Json)) {
    const names = [...template.matchAll(/\{([^}]+)\}/g)].map(([, name]) => name!);
    const found = new RegExp(`^${template.replace(/\{[^}]+\}/g, "([^/]+)")}$`).exec(location);
    if (found === null) continue;
    names.forEach((name, at) => {
      const list = params.get(name) ?? [];
      params.set(name, list);
      keep(list, decodeURIComponent(found[at + 1]!));
    });
  }
}

function withEtag(sent: Sent, etags: ReadonlyMap<string, string>): Sent {
  if (sent.headers["if-match"] !== latestEtag) return sent;
  const { "if-match": _, ...headers } = sent.headers;
  const etag = etags.get(sent.path);
  return { ...sent, headers: etag === undefined ? headers : { ...headers, "if-match": etag } };
}

/** The first ones stay, and some of the others. */
function keep(list: string[], value: string): void {
  if (list.includes(value)) return;
  if (list.length < 30) list.push(value);
  else list[10 + ((value.length + value.charCodeAt(0)) % 20)] = value;
}
