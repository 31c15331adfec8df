import { type Browser, type BrowserContext, type BrowserContextOptions, chromium } from "playwright-core";
import { createApp } from "../../services/api/app.ts";
import { createAuthentication } from "../../services/api/authenticate.ts";
import { listen } from "../../services/api/listen.ts";
import { createMover } from "../../services/moves/mover.ts";
import { connectQueue } from "../../services/queue/connect.ts";
import { partQueue, planQueue, type QueueKind } from "../../services/queue/queue.ts";
import { connectStore } from "../../services/store/connect.ts";
import type { Store } from "../../services/store/store.ts";
import { createViewMaker } from "../../services/views/viewMaker.ts";
import { concludeStudy } from "../../services/worker/concludeStudy.ts";
import { startPartWorker } from "../../services/worker/partWorker.ts";
import { startPlanWorker } from "../../services/worker/planWorker.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { access } from "./acting.ts";
import { builtScreens } from "./builtScreens.ts";
import type { DemoStudies } from "./demoStudies.ts";
import { type DemoAsk, fillDemo } from "./fillDemo.ts";
import { startTestDatabase } from "./servers.ts";

/** Who can be signed in: a person of each role, or a crew's phone by its link. */
export type DemoCaller = "dispatcher" | "crewLead" | "owner" | "administrator" | "phone";

export interface DemoServer {
  readonly origin: string;
  readonly store: Store;
  readonly operation: Operation;
  readonly operationId: string;
  /** The published plan, and a draft beside it. */
  readonly planId: string;
  readonly draftId: string;
  readonly plan: Plan;
  /** The crew that the crew lead and the phone are of, and its day that is under way. */
  readonly crewId: string;
  readonly date: string;
  readonly caseSetId: string | null;
  /** Ids of those that have ended, where they were asked for. */
  readonly studies: DemoStudies | null;
  /** Made anew at every start. */
  readonly people: Readonly<Record<Exclude<DemoCaller, "phone">, { readonly name: string; readonly password: string }>>;
  /** What the caller's browser sends with its calls, for calls beside a browser. */
  headersOf(caller: DemoCaller): Readonly<Record<string, string>>;
  /** A browser that is signed in already. Close the context, or the browser, when done. */
  signedIn(browser: Browser, caller: DemoCaller, options?: BrowserContextOptions): Promise<BrowserContext>;
  close(): Promise<void>;
}

export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"],
  });

const script = (name: string) => new URL(`../../services/worker/${name}`, import.meta.url);

/**
 * The whole service in one process with everything in it that screens show: the demo (or `orders: 500`, a generated operation), a published plan and a draft, people of every role, a link for a crew's
 * phone, reports of the first crew's first day, a set of cases (`studies: true`: what was found out by them, too). Up in about ten seconds.
 */
export async function startDemoServer(ask: DemoAsk = {}): Promise<DemoServer> {
  const pageFolder = await builtScreens();
  const database = await startTestDatabase();
  const { databaseUrl } = database;
  let isClosing = false;
  const onError = (error: unknown) => {
    if (!isClosing) console.error(error);
  };
  const open = (kind: QueueKind) => connectQueue({ kind, databaseUrl, redisUrl: null, onConnectionError: onError });
  const store = await connectStore({ databaseUrl, onConnectionError: onError });
  const [queue, runs, mover] = [await open(planQueue), await open(partQueue(1)), createMover({ onError })];
  const maker = createViewMaker({ onError });
  const worker = await startPlanWorker({
    store,
    queue: await open(planQueue),
    heldMeanwhile: { hold: () => undefined, release: () => undefined },
    threadScript: script("planThread.ts"),
    threads: 1,
    stopWithinMs: 5_000,
    onError,
  });
  const partWorker = await startPartWorker({
    store,
    queue: await open(partQueue(1)),
    threadScript: script("partThread.ts"),
    conclude: concludeStudy,
    onError,
  });
  const app = createApp({
    store,
    queue,
    runs,
    mover,
    maker,
    access,
    onError,
    pageFolder,
    authenticate: createAuthentication(store, access),
    isClosing: () => isClosing,
  });
  const bound = await listen(app, { host: "127.0.0.1", port: ask.port ?? 18_680, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  const origin = `http://127.0.0.1:${bound.api.port}`;
  const { sessions, ...filled } = await fillDemo(origin, store, ask);

  return {
    origin,
    store,
    ...filled,
    headersOf: (caller) => sessions[caller],
    async signedIn(browser, caller, options) {
      const context = await browser.newContext(options);
      const [name, value] = sessions[caller].cookie.split("=") as [string, string];
      await context.addCookies([{ name, value, url: origin, httpOnly: true, sameSite: "Strict" }]);
      return context;
    },
    async close() {
      isClosing = true;
      await bound.api.close();
      for (const one of [mover, maker, worker, partWorker, queue, runs, store]) await one.close();
      await database.stop();
    },
  };
}
