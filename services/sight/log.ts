import { pino } from "pino";
import { scrub } from "./scrub.ts";

/** words: lines for whoever sits before the terminal. json: one object a line, for machines that gather logs. */
export const logForms = ["words", "json"] as const;
export type LogForm = (typeof logForms)[number];

/** Short values only, chosen one by one: never a header, a body, an address with its query. */
export type Facts = Readonly<Record<string, string | number | boolean | null>>;

export interface Log {
  /** For people: what there is to know at the start, and what has changed since. */
  readonly say: (line: string) => void;
  /** The same for what is nobody else's to know, such as a link that works once: on the console, and never in the log. */
  readonly sayHere: (line: string) => void;
  /** What has happened, by a name that does not change, for whoever searches and counts. Not shown in words. */
  readonly note: (what: string, facts: Facts) => void;
  readonly error: (error: unknown, facts?: Facts) => void;
}

export interface LogParts {
  readonly form: LogForm;
  /** Which part of the service speaks. */
  readonly part: "serve" | "worker";
  readonly write: (text: string) => void;
  readonly writeHere: (text: string) => void;
}

export function createLog({ form, part, write, writeHere }: LogParts): Log {
  const quiet = createQuiet();
  if (form === "words") {
    const say = (line: string) => write(`${line}\n`);
    return {
      say,
      sayHere: say,
      note: () => undefined,
      error(error, facts = {}) {
        const words = scrub(messageOf(error));
        const before = quiet(words);
        if (before === null) return;
        const call = typeof facts.callId === "string" ? ` (call ${facts.callId})` : "";
        write(`! ${part === "worker" ? "worker: " : ""}${words}${call}${againWords(before)}\n`);
      },
    };
  }
  const lines = pino({ base: { part, pid: process.pid }, timestamp: pino.stdTimeFunctions.isoTime }, { write });
  return {
    say: (line) => lines.info(scrub(line)),
    sayHere: (line) => writeHere(`${line}\n`),
    note: (what, facts) => lines.info({ what, ...facts }),
    error(error, facts = {}) {
      const message = scrub(messageOf(error));
      const before = quiet(message);
      if (before === null) return;
      const { name, code, stack } = error instanceof Error ? (error as NodeJS.ErrnoException) : {};
      lines.error(
        {
          what: "error",
          ...facts,
          ...(name === undefined ? {} : { name }),
          ...(typeof code === "string" ? { code } : {}),
          ...(stack === undefined ? {} : { stack: scrub(stack) }),
          ...(before > 0 ? { alsoTimes: before } : {}),
        },
        message,
      );
    },
  };
}

/** To standard output; what cannot be written, because the disk is full or nobody reads any more, is not worth ending the service for. */
export function consoleLog(form: LogForm, part: LogParts["part"]): Log {
  const out = pino.destination({ fd: 1, sync: true, maxLength: waitingBytes });
  out.on("error", () => undefined);
  const err = pino.destination({ fd: 2, sync: true, maxLength: waitingBytes });
  err.on("error", () => undefined);
  return createLog({ form, part, write: (text) => out.write(text), writeHere: (text) => err.write(text) });
}

const waitingBytes = 1024 * 1024;

const messageOf = (error: unknown): string =>
  error instanceof AggregateError && error.message === ""
    ? error.errors.map(messageOf).join("; ")
    : error instanceof Error
      ? error.message
      : String(error);

const againWords = (times: number) => (times === 0 ? "" : ` (and ${times} times before)`);

/** Our choice: a database that is away is told of every ten seconds, not with every call. */
const sameAgainMs = 10_000;
const messagesKept = 200;

/** Null: the same was told a moment ago. Else how often it was kept back since. */
function createQuiet(): (message: string) => number | null {
  const told = new Map<string, { untilMs: number; keptBack: number }>();
  return (message) => {
    const nowMs = performance.now();
    const known = told.get(message);
    if (known && nowMs < known.untilMs) {
      known.keptBack++;
      return null;
    }
    told.delete(message);
    if (told.size >= messagesKept) told.delete(told.keys().next().value!);
    told.set(message, { untilMs: nowMs + sameAgainMs, keptBack: 0 });
    return known?.keptBack ?? 0;
  };
}
