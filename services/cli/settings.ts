import { resolve } from "node:path";
import { type LogForm, logForms } from "../sight/log.ts";

/** What the environment says to serve and worker. */
export interface ServiceSettings {
  /** Postgres to use; null: our own, in the data folder. */
  readonly databaseUrl: string | null;
  /** Redis for the queue; null: the queue is in Postgres too. */
  readonly redisUrl: string | null;
  readonly dataFolder: string;
  readonly host: string;
  readonly port: number;
  /** The port was asked for, so another one will not do. */
  readonly portGiven: boolean;
  /** Threads that a worker plans with by seconds; null: as many as there are cores. */
  readonly threads: number | null;
  /** Parts of studies that a worker works at once; null: as many as there are cores. */
  readonly runsAtOnce: number | null;
  readonly logForm: LogForm;
  /** Where figures are read; null: nowhere. */
  readonly metrics: { readonly host: string; readonly port: number } | null;
  /** So long a worker that is to end lets go on what runs. */
  readonly drainSeconds: number;
  /** What links are signed with; null: not given. */
  readonly secret: string | null;
  /** Where people reach us, as https://plan.example.org; null: not given. */
  readonly origin: string | null;
}

/** Our choice: as long as 16 random bytes written in hexadecimal. */
const secretLeastCharacters = 32;

const defaultPort = 8080;
/** Containers are killed ten seconds after they are told to end. */
const defaultDrainSeconds = 8;

export type SettingsOutcome =
  | { readonly ok: true; readonly settings: ServiceSettings }
  | { readonly ok: false; readonly message: string };

export function readSettings(env: NodeJS.ProcessEnv): SettingsOutcome {
  const port = env.PORT === undefined || env.PORT === "" ? defaultPort : Number(env.PORT);
  if (!Number.isInteger(port) || port < 1 || port > 65_535) {
    return { ok: false, message: `PORT is ${env.PORT}; expected a number from 1 to 65535` };
  }
  const logForm = logForms.find((form) => form === (env.CALMHOUR_LOG || "words"));
  if (logForm === undefined) {
    return { ok: false, message: `CALMHOUR_LOG is ${env.CALMHOUR_LOG}; expected ${logForms.join(" or ")}` };
  }
  const metricsPort = countIn(env, "CALMHOUR_METRICS_PORT");
  if (metricsPort !== null && (!Number.isInteger(metricsPort) || metricsPort < 1 || metricsPort > 65_535)) {
    return {
      ok: false,
      message: `CALMHOUR_METRICS_PORT is ${env.CALMHOUR_METRICS_PORT}; expected a number from 1 to 65535`,
    };
  }
  for (const name of ["CALMHOUR_THREADS", "CALMHOUR_RUNS"] as const) {
    const count = countIn(env, name);
    if (count !== null && (!Number.isInteger(count) || count < 1)) {
      return { ok: false, message: `${name} is ${env[name]}; expected a whole number of at least 1` };
    }
  }
  const drainSeconds = countIn(env, "CALMHOUR_DRAIN_SECONDS") ?? defaultDrainSeconds;
  if (!(drainSeconds >= 0 && drainSeconds <= 86_400)) {
    return {
      ok: false,
      message: `CALMHOUR_DRAIN_SECONDS is ${env.CALMHOUR_DRAIN_SECONDS}; expected seconds from 0 to 86400`,
    };
  }
  const secret = env.CALMHOUR_SECRET || null;
  if (secret !== null && secret.length < secretLeastCharacters) {
    // What it is stays untold.
    return {
      ok: false,
      message: `CALMHOUR_SECRET is too short; expected at least ${secretLeastCharacters} characters`,
    };
  }
  const origin = env.CALMHOUR_ORIGIN || null;
  if (origin !== null && !isOrigin(origin)) {
    return { ok: false, message: `CALMHOUR_ORIGIN is ${origin}; expected an address like https://plan.example.org` };
  }
  return {
    ok: true,
    settings: {
      databaseUrl: env.DATABASE_URL || null,
      redisUrl: env.REDIS_URL || null,
      dataFolder: resolve(env.CALMHOUR_DATA || ".data"),
      host: env.HOST || "127.0.0.1",
      port,
      portGiven: Boolean(env.PORT),
      threads: countIn(env, "CALMHOUR_THREADS"),
      runsAtOnce: countIn(env, "CALMHOUR_RUNS"),
      logForm,
      metrics: metricsPort === null ? null : { host: env.CALMHOUR_METRICS_HOST || "127.0.0.1", port: metricsPort },
      drainSeconds,
      secret,
      origin,
    },
  };
}

function isOrigin(text: string): boolean {
  return /^https?:/.test(text) && URL.canParse(text) && new URL(text).origin === text;
}

function countIn(env: NodeJS.ProcessEnv, name: string): number | null {
  return env[name] ? Number(env[name]) : null;
}
