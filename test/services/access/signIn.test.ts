import { beforeEach, describe, expect, it, vi } from "vitest";
import { hashOf, randomSecret } from "../../../services/access/secrets.ts";
import { endedCookie, sessionCookie } from "../../../services/api/cookies.ts";
import { networkOf } from "../../../services/api/throttle.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import { type Shown, serveAccess } from "./serveAccess.ts";

const compared = vi.hoisted(() => ({ count: 0 }));
vi.mock("@node-rs/argon2", async (original) => {
  const real = await original<typeof import("@node-rs/argon2")>();
  return {
    ...real,
    verify: (...given: Parameters<typeof real.verify>) => {
      compared.count++;
      return real.verify(...given);
    },
  };
});

const { call, person, served, shownOf, store, sql } = serveAccess();

const password = "calm at five in the morning";
/** Signs in as a browser does, and tells what it would send from then on. */
async function signIn(name: string, given: string, sent: Shown = {}) {
  const told = await call<SessionFacts & Problem>("POST", "/api/session", sent, { name, password: given });
  const cookie = told.headers.get("set-cookie")?.split(";")[0] ?? "";
  return { ...told, shown: { cookie, "x-csrf-token": told.body.csrfToken ?? "" } };
}

/** Passwords are set by links, as people do it. */
async function withPassword(personId: string): Promise<void> {
  const link = randomSecret();
  await store().addPasswordLink(personId, { hash: hashOf(link), forS: 60 }, { ...byTest });
  const told = await call("POST", "/api/password-links/use", {}, { link, password });
  expect(told.status).toBe(200);
}
const byTest = { by: { kind: "service", id: null, name: "test" }, action: "test", callId: null, once: null } as const;

beforeEach(() => sql("delete from sign_in_attempts"));

describe("the first start", () => {
  const first = (link: string, given = password) =>
    call<SessionFacts & Problem>(
      "POST",
      "/api/first-start",
      {},
      { link, name: "Ada", shownName: "Ada Berg", password: given },
    );

  it("makes the first person by a link, once, with a password of some length", async () => {
    const links = [randomSecret(), randomSecret()];
    for (const link of links) expect(await store().addFirstLink(hashOf(link), 3600)).toBeInstanceOf(Date);
    const refused = {
      "too short": /at least 12 characters/,
      aaaaaaaaaaaaaaa: /5 different/,
      "adaAdaADAada-password": /beside your name/,
    };
    for (const [given, words] of Object.entries(refused)) {
      const told = await first(links[0]!, given);
      expect([told.status, told.body.detail]).toEqual([422, expect.stringMatching(words)]);
      expect(JSON.stringify(told.body)).not.toContain(given);
    }
    expect((await first("made up")).status).toBe(409);

    // Many at once, by both links: there is one first person.
    const told = await Promise.all([...links, ...links, ...links].map((link) => first(link)));
    expect(told.map(({ status }) => status).sort()).toEqual([200, 409, 409, 409, 409, 409]);
    const { body } = told.find(({ status }) => status === 200)!;
    expect(body).toMatchObject({ kind: "person", name: "Ada Berg", roles: ["administrator", "dispatcher", "owner"] });
    expect(await store().addFirstLink(hashOf(randomSecret()), 3600)).toBeNull();
    expect((await sql("select * from one_time_links")).rows).toEqual([]);
  });
});

describe("signing in", () => {
  it("takes the name whatever letters are capitals, and the password as it is", async () => {
    expect((await signIn("ada ", password)).status).toBe(200);
    expect((await signIn("aDA", password)).body).toMatchObject({ name: "Ada Berg", kind: "person" });
    expect((await signIn("ada", password.toUpperCase())).status).toBe(401);
    // The same characters, put together otherwise (Unicode, NFC and NFD).
    const { id } = await person("Zoë", ["owner"]);
    const link = randomSecret();
    await store().addPasswordLink(id, { hash: hashOf(link), forS: 60 }, byTest);
    await call("POST", "/api/password-links/use", {}, { link, password: "Ångström über alles".normalize("NFC") });
    const typed = ["Zoë", "Ångström über alles"].map((text) => text.normalize("NFD"));
    expect((await signIn(typed[0]!, typed[1]!)).status).toBe(200);
  });

  it("tells nobody whether there is such a name, not by the time it takes either", async () => {
    const { id } = await person("inactive", ["owner"]);
    await withPassword(id);
    await sql("update people set active = false where id = $1", [id]);
    await sql("insert into people (id, name, shown_name, roles) values (gen_random_uuid(), 'new', 'New', '{owner}')");
    const answers: unknown[] = [];
    for (const name of ["ada", "unknown", "new", "inactive"]) {
      const before = compared.count;
      const { status, body, headers } = await signIn(name, "not the password");
      answers.push([status, body, headers.get("set-cookie"), compared.count - before]);
    }
    expect(new Set(answers.map((answer) => JSON.stringify(answer))).size).toBe(1);
    expect(answers[0]).toMatchObject([401, { detail: "The name or the password is wrong." }, null, 1]);
  });

  it("never takes a session that somebody has planted, and ends the one before", async () => {
    const planted = randomSecret();
    const { shown } = await signIn("ada", password, { cookie: `calmhour=${planted}` });
    expect(shown.cookie).not.toContain(planted);
    expect((await call("GET", "/api/session", { cookie: `calmhour=${planted}` })).status).toBe(401);
    const again = await signIn("ada", password, { cookie: shown.cookie });
    expect(again.shown.cookie).not.toBe(shown.cookie);
    expect((await call("GET", "/api/session", shown)).status).toBe(401);
    expect((await call("GET", "/api/session", again.shown)).status).toBe(200);
    expect((await call("DELETE", "/api/session", again.shown)).status).toBe(204);
    expect((await call("GET", "/api/session", again.shown)).status).toBe(401);
  });

  it("sets a cookie that no script reads, no other site sends and, with https, nothing else carries", async () => {
    const { headers } = await signIn("ada", password);
    expect(headers.get("set-cookie")).toMatch(/^calmhour=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/);
    expect(headers.get("cache-control")).toBe("no-store");
    const https = { secret: "", origin: "https://plan.example.org" };
    // RFC 6265bis, section 4.1.3.2: __Host- wants Secure, Path=/ and no Domain.
    expect(sessionCookie(https, "s", false)).toBe("__Host-calmhour=s; Path=/; HttpOnly; SameSite=Strict; Secure");
    expect(sessionCookie(https, "s", true)).toMatch(/^__Host-calmhour=s; Max-Age=2678400; Path=\/; .*Secure$/);
    expect(endedCookie(https)).toMatch(/^__Host-calmhour=; Max-Age=0; .*Secure$/);
    const safe = await served(https.origin);
    const health = await fetch(`http://127.0.0.1:${safe.port}/api/health`);
    expect(health.headers.get("strict-transport-security")).toMatch(/max-age=\d{7,}/);
    await safe.close();
  });
});

describe("a call by a session's cookie", () => {
  it("that changes something comes from our own page and carries its token", async () => {
    const { shown } = await signIn("ada", password);
    const other = (await signIn("ada", password)).shown;
    const { id } = await person("somebody", ["owner"]);
    const path = `/api/people/${id}/sign-out`;
    const status = async (sent: Shown) => (await call("POST", path, { cookie: shown.cookie, ...sent })).status;
    const token = shown["x-csrf-token"];
    const forged: Shown[] = [
      {},
      { "x-csrf-token": "" },
      { "x-csrf-token": other["x-csrf-token"] },
      { "x-csrf-token": token, "sec-fetch-site": "cross-site" },
      { "x-csrf-token": token, "sec-fetch-site": "same-site" },
      { "x-csrf-token": token, origin: "http://elsewhere.example.org" },
      { "x-csrf-token": token, origin: "null" },
    ];
    for (const sent of forged) expect(await status(sent), JSON.stringify(sent)).toBe(403);
    expect(await status({ "x-csrf-token": token })).toBe(204);
    expect(await status({ "x-csrf-token": token, "sec-fetch-site": "same-origin" })).toBe(204);
    expect((await call("GET", "/api/people", { cookie: shown.cookie })).status).toBe(200);
  });

  it("comes from the origin that was told, where one was", async () => {
    const safe = await served("https://plan.example.org");
    const status = async (origin: string) =>
      (
        await fetch(`http://127.0.0.1:${safe.port}/api/session`, {
          method: "POST",
          headers: { "content-type": "application/json", origin },
          body: "{}",
        })
      ).status;
    expect([await status("https://plan.example.org"), await status(`http://127.0.0.1:${safe.port}`)]).toEqual([
      422, 403,
    ]);
    await safe.close();
  });
});

describe("too many tries", () => {
  const wrong = "not the password at all";

  it("under one name have to wait, even with the right password, and no more get through at once", async () => {
    const tries = await Promise.all(Array.from({ length: 16 }, () => signIn("ada", wrong)));
    const count = (status: number) => tries.filter((one) => one.status === status).length;
    expect([count(401), count(429)]).toEqual([10, 6]);
    const right = await signIn("ADA", password);
    expect(right.status).toBe(429);
    const waitS = Number(right.headers.get("retry-after"));
    expect(waitS).toBeGreaterThan(14 * 60);
    expect(waitS).toBeLessThanOrEqual(15 * 60);
    const before = compared.count;
    await signIn("ada", password);
    expect(compared.count).toBe(before);
    await sql("update sign_in_attempts set at = at - interval '15 minutes'");
    expect((await signIn("ada", password)).status).toBe(200);
  });

  it("are forgotten once one has been right", async () => {
    for (let round = 0; round < 3; round++) {
      for (let one = 0; one < 6; one++) expect((await signIn("ada", wrong)).status).toBe(401);
      expect((await signIn("ada", password)).status).toBe(200);
    }
  });

  it("from one address have to wait, whatever the names", async () => {
    for (let one = 0; one < 30; one++) await signIn(`name${one}`, wrong);
    expect((await signIn("ada", password)).status).toBe(429);
  });

  it("are counted by what somebody has of an address", () => {
    expect(networkOf("10.1.2.3")).toBe("10.1.2.3");
    expect(networkOf("::ffff:10.1.2.3")).toBe("10.1.2.3");
    expect(networkOf("2001:db8:1:2:3:4:5:6")).toBe(networkOf("2001:0db8:1:2::9"));
    expect(networkOf("2001:db8:1:2::1")).not.toBe(networkOf("2001:db8:1:3::1"));
    expect(networkOf("::1")).toBe("0:0:0:0");
  });
});

it("a new password signs out everywhere else, and wants the present one", async () => {
  const { id, session } = await person("changer", ["dispatcher"]);
  await withPassword(id);
  const elsewhere = await session();
  const { shown } = await signIn("changer", password);
  const next = "another calm hour, later on";
  const change = (current: string, given: string) =>
    call<SessionFacts & Problem>("POST", "/api/session/password", shown, { current, password: given });
  expect((await change("not the present one", next)).status).toBe(409);
  expect((await change(password, "short")).status).toBe(422);
  const told = await change(password, next);
  expect(told.status).toBe(200);
  for (const ended of [elsewhere, shown]) expect((await call("GET", "/api/session", ended)).status).toBe(401);
  const now = shownOf(told.headers.get("set-cookie")!.split(";")[0]!.split("=")[1]!);
  const { csrfToken } = (await call<SessionFacts>("GET", "/api/session", now)).body;
  expect([csrfToken, told.body.csrfToken]).toEqual([now["x-csrf-token"], now["x-csrf-token"]]);
  expect([(await signIn("changer", password)).status, (await signIn("changer", next)).status]).toEqual([401, 200]);
});

it("whoever changes a person in every way at the same moment is never in another's way", async () => {
  const { id } = await person("crowded", ["owner"]);
  const other = await person("crowded2", ["owner"]);
  const mine = () => hashOf(randomSecret());
  const change = { shownName: "Crowded", roles: ["owner" as const], crews: [], active: true };
  const facts = async () => (await store().signInFacts("crowded"))!;
  const link = async () => {
    const hash = mine();
    await store().addPasswordLink(id, { hash, forS: 60 }, byTest);
    return store().setPassword(hash, mine(), mine(), byTest);
  };
  const versions = Array.from({ length: 200 }, (_, index) => index);
  const ways: (() => Promise<unknown>)[] = [
    link,
    async () => store().signIn(await facts(), mine(), byTest),
    async () => store().changePassword(id, (await facts()).password!, mine(), mine(), byTest),
    () => store().changePerson(id, versions, change, byTest),
    () => store().changePerson(other.id, versions, change, byTest),
    () => store().endSessionsOf(id, byTest),
    () => sql("update sessions set expires_at = now() - interval '1 second' where person_id = $1", [other.id]),
    () => other.session(),
    () =>
      store().beginAttempt([
        { key: "a", most: 5 },
        { key: "b", most: 5 },
      ]),
    () => store().forgetAttempt(null, "b"),
  ];
  // A deadlock, which Postgres ends by an error, is what would be thrown.
  for (let round = 0; round < 12; round++) await Promise.all([...ways, ...ways].map((way) => way()));
}, 60_000);
