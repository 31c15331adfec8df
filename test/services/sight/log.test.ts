import { describe, expect, it } from "vitest";
import { createLog, type LogForm } from "../../../services/sight/log.ts";
import { scrub } from "../../../services/sight/scrub.ts";

function logOf(form: LogForm) {
  const lines: string[] = [];
  const here: string[] = [];
  const log = createLog({
    form,
    part: "serve",
    write: (text) => lines.push(text),
    writeHere: (text) => here.push(text),
  });
  return { log, lines, here, objects: () => lines.map((line) => JSON.parse(line) as Record<string, unknown>) };
}

describe("the log", () => {
  it("is one JSON object a line for machines, with what happened and when", () => {
    const { log, lines, objects } = logOf("json");
    log.say("Calmhour is at http://127.0.0.1:8080");
    log.note("call", { callId: "c", route: "plan", status: 200, ms: 3, actor: null });
    log.error(new TypeError("no such\nthing"), { callId: "c" });
    expect(lines.every((line) => line.endsWith("\n") && !line.slice(0, -1).includes("\n"))).toBe(true);
    expect(objects()).toMatchObject([
      { part: "serve", msg: "Calmhour is at http://127.0.0.1:8080" },
      { what: "call", callId: "c", route: "plan", status: 200, ms: 3, actor: null },
      { what: "error", name: "TypeError", msg: "no such\nthing", callId: "c" },
    ]);
    for (const { time } of objects()) expect(Date.parse(String(time))).not.toBeNaN();
  });

  it("is words for people, without the calls", () => {
    const { log, lines } = logOf("words");
    log.say("The worker is ready.");
    log.note("call", { callId: "c" });
    log.error(new Error("connect ECONNREFUSED 127.0.0.1:5432"), { callId: "c" });
    expect(lines).toEqual(["The worker is ready.\n", "! connect ECONNREFUSED 127.0.0.1:5432 (call c)\n"]);
  });

  it("tells the same trouble once, and later how often it came", () => {
    const { log, lines } = logOf("words");
    for (let at = 0; at < 1_000; at++) log.error(new Error("the database is away"));
    expect(lines).toHaveLength(1);
    for (let at = 0; at < 1_000; at++) log.error(new Error(`another ${at}`));
    expect(lines).toHaveLength(1_001);
  });

  it("keeps what opens a door out of it, and says that on the console alone", () => {
    const { log, lines, here } = logOf("json");
    log.sayHere("Open http://127.0.0.1:8080/#first=s3cr3t-word");
    log.say("Open http://127.0.0.1:8080/#first=s3cr3t-word");
    log.error(new Error("cannot reach postgres://calmhour:s3cr3t-word@db:5432/x"));
    log.error(new Error('bad header "Authorization: Bearer s3cr3t-word"'));
    expect(lines.join("")).not.toContain("s3cr3t-word");
    expect(lines).toHaveLength(3);
    expect(here).toEqual(["Open http://127.0.0.1:8080/#first=s3cr3t-word\n"]);
  });
});

it.each([
  ["redis://:pass@host:6379", "redis://:***@host:6379"],
  ["GET /api/audit?key=abc&x=1 failed", "GET /api/audit?*** failed"],
  ["Bearer abc.DEF-123_~+/=", "Bearer ***"],
  ["set-cookie: session=abc; Path=/", "set-cookie: ***; Path=/"],
  ['{"password":"open sesame","name":"x"}', '{"password":***,"name":"x"}'],
  ["The plan of 2027-06-14 is done (3 stops).", "The plan of 2027-06-14 is done (3 stops)."],
])("scrubbed: %s", (text, expected) => {
  expect(scrub(text)).toBe(expected);
});
