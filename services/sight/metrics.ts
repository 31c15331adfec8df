import { AggregatorRegistry, Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import type { EndedCall } from "./endedCall.ts";
import type { EndedJob } from "./endedJob.ts";

export const metricsType = Registry.PROMETHEUS_CONTENT_TYPE;

/** Figures of one process, as another one adds them to its own. */
export type Figures = readonly object[];

/** What stands in the store for queues: by queue and state, how many pieces. */
export interface Backlog {
  readonly queue: string;
  readonly state: string;
  readonly count: number;
}

/** Read when somebody asks for the figures. */
export interface Readings {
  /** Null: the store does not answer. */
  readonly backlog: () => Promise<readonly Backlog[] | null>;
  readonly pool: () => { readonly open: number; readonly idle: number; readonly waiting: number };
}

export interface Metrics {
  readonly onCall: (call: EndedCall) => void;
  readonly onJob: (job: EndedJob) => void;
  readonly onError: (kind: string) => void;
  /** So many windows of orders and aircraft types were worked out. */
  readonly onWindows: (count: number) => void;
  readonly figures: () => Promise<Figures>;
  /** In the text form of Prometheus 0.0.4, with the figures of other processes. */
  readonly text: (others: readonly Figures[]) => Promise<string>;
}

/** Method names that are not HTTP's own come from outside; as labels they would be without number. */
const methods = ["GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS"];

const callBuckets = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 25];
const planBuckets = [0.5, 1, 2.5, 5, 10, 20, 30, 60, 120, 300, 600, 1800, 3600];
const gapBuckets = [0.01, 0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 1];

/** `part` tells processes apart, whose figures are given out together. */
export function createMetrics(part: "api" | "worker", readings: Readings | null): Metrics {
  const registry = new Registry();
  const registers = [registry];
  registry.setDefaultLabels({ part });
  collectDefaultMetrics({ register: registry });

  const calls = new Histogram({
    name: "calmhour_http_request_seconds",
    help: "Seconds from a request's headers to the end of its answer, streams left out",
    labelNames: ["route", "method", "status"],
    buckets: callBuckets,
    registers,
  });
  const streams = new Counter({
    name: "calmhour_streams_total",
    help: "Streams of events that have ended",
    labelNames: ["route"],
    registers,
  });
  const errors = new Counter({
    name: "calmhour_errors_total",
    help: "What went wrong within the service, by kind",
    labelNames: ["kind"],
    registers,
  });
  const jobs = new Histogram({
    name: "calmhour_job_seconds",
    help: "Seconds that pieces of work took, by queue and how they ended",
    labelNames: ["queue", "ending"],
    buckets: planBuckets,
    registers,
  });
  const retries = new Counter({
    name: "calmhour_job_retries_total",
    help: "Pieces of work that were begun before",
    labelNames: ["queue"],
    registers,
  });
  const gaps = new Histogram({
    name: "calmhour_plan_gap_ratio",
    help: "By how much of the proven least a plan costs more; plans without a proof left out",
    buckets: gapBuckets,
    registers,
  });
  const firstPlans = new Histogram({
    name: "calmhour_first_plan_seconds",
    help: "Seconds from the start of planning until there was a first plan",
    buckets: planBuckets,
    registers,
  });
  const windows = new Counter({
    name: "calmhour_windows_computed_total",
    help: "Windows of orders and aircraft types that were worked out, for readers and for plans; those of studies left out",
    registers,
  });
  if (readings) addReadings(registry, readings);

  const figures = async () => (await registry.getMetricsAsJSON()) as Figures;
  return {
    onCall({ routeId, method, status, durationMs, isStream }) {
      const route = routeId ?? "other";
      if (isStream) streams.inc({ route });
      else {
        const known = methods.includes(method) ? method : "other";
        calls.observe({ route, method: known, status: String(status) }, durationMs / 1000);
      }
    },
    onJob({ queue, ending, seconds, starts, gapFrac, firstPlanSeconds, windows: computed }) {
      jobs.observe({ queue, ending }, seconds);
      if (starts > 1) retries.inc({ queue });
      windows.inc(computed);
      if (gapFrac !== null) gaps.observe(gapFrac);
      if (firstPlanSeconds !== null) firstPlans.observe(firstPlanSeconds);
    },
    onError: (kind) => errors.inc({ kind }),
    onWindows: (count) => windows.inc(count),
    figures,
    async text(others) {
      const all = [await figures(), ...others];
      return AggregatorRegistry.aggregate(all.map((some) => [...some])).metrics();
    },
  };
}

function addReadings(registry: Registry, readings: Readings): void {
  const registers = [registry];
  // Both figures that need it are read at the same time, from one answer.
  let asked: ReturnType<Readings["backlog"]> | null = null;
  const backlogNow = () => {
    asked ??= readings.backlog().finally(() => {
      asked = null;
    });
    return asked;
  };
  new Gauge({
    name: "calmhour_store_up",
    help: "1: the store has answered when it was asked for these figures",
    registers,
    async collect() {
      this.set((await backlogNow()) === null ? 0 : 1);
    },
  });
  new Gauge({
    name: "calmhour_queue_pieces",
    help: "Pieces of work that stand in the store, by queue and state; dead: failed for good, and nobody has laid them aside",
    labelNames: ["queue", "state"],
    registers,
    async collect() {
      this.reset();
      for (const { queue, state, count } of (await backlogNow()) ?? []) this.set({ queue, state }, count);
    },
  });
  new Gauge({
    name: "calmhour_store_connections",
    help: "Connections to the store that are open, idle, and callers that wait for one",
    labelNames: ["state"],
    registers,
    collect() {
      for (const [state, count] of Object.entries(readings.pool())) this.set({ state }, count);
    },
  });
}
