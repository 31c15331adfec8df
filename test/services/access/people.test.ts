import { createHmac } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { createCrewLinkText } from "../../../services/access/crewLinkText.ts";
import type { AuditPage } from "../../../shared/contracts/audit.ts";
import type { CrewLink } from "../../../shared/contracts/crewLinks.ts";
import type { Person } from "../../../shared/contracts/people.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import type { Token } from "../../../shared/contracts/tokens.ts";
import { access } from "../../support/acting.ts";
import { type Shown, serveAccess } from "./serveAccess.ts";

const { call, person, operation, shownOf, store, sql } = serveAccess();

/** Everything that must not stand in the database. */
const secrets: string[] = [];
const told = (secret: string) => {
  secrets.push(secret);
  return secret;
};
const password = told("calm at five in the morning");
const linkIn = (address: string) => told(address.split("/").at(-1)!);
const cookieOf = (headers: Headers) => told(headers.get("set-cookie")!.split(";")[0]!.split("=")[1]!);

let administrator: Awaited<ReturnType<typeof person>>;
let shown: Shown;
beforeAll(async () => {
  administrator = await person("chief", ["administrator"]);
  shown = await administrator.session();
});

interface Added {
  readonly person: Person;
  readonly passwordLink: { readonly address: string } | null;
}
const add = (name: string, roles: string[], more: object = {}, sent: Shown = {}) =>
  call<Added & Problem>(
    "POST",
    "/api/people",
    { ...shown, ...sent },
    { name, shownName: `Shown ${name}`, roles, ...more },
  );
const change = (id: string, etag: string, body: object) =>
  call<Person & Problem>("PUT", `/api/people/${id}`, { ...shown, "if-match": etag }, body);

describe("people", () => {
  it("are added with a link by which they set their password, once", async () => {
    const added = await add("Lead-1", ["crewLead"]);
    expect(added.status).toBe(201);
    expect(added.body.person).toMatchObject({ name: "Lead-1", hasPassword: false, active: true });
    expect(added.headers.get("location")).toBe(`/api/people/${added.body.person.id}`);
    expect((await add("lead-1", ["owner"])).status).toBe(409);

    const first = linkIn(added.body.passwordLink!.address);
    const again = await call<{ address: string }>("POST", `/api/people/${added.body.person.id}/password-link`, shown);
    const second = linkIn(again.body.address);
    const use = (link: string) => call<SessionFacts>("POST", "/api/password-links/use", {}, { link, password });
    expect((await use(first)).status).toBe(409);
    const used = await use(second);
    expect(used.body).toMatchObject({ name: "Shown Lead-1", roles: ["crewLead"] });
    cookieOf(used.headers);
    told(used.body.csrfToken!);
    expect((await use(second)).status).toBe(409);
    const late = linkIn(
      (await call<{ address: string }>("POST", `/api/people/${added.body.person.id}/password-link`, shown)).body
        .address,
    );
    await sql("update one_time_links set expires_at = now()");
    expect((await use(late)).status).toBe(409);
  });

  it("are added once by a call that is sent twice", async () => {
    const key = { "idempotency-key": "add ada".replace(" ", "-") };
    const one = await add("twice", ["owner"], {}, key);
    const two = await add("twice", ["owner"], {}, key);
    expect([one.status, two.status, two.body.person.id, two.body.passwordLink]).toEqual([
      201,
      200,
      one.body.person.id,
      null,
    ]);
    linkIn(one.body.passwordLink!.address);
    expect((await add("twice2", ["owner"], {}, key)).status).toBe(422);
  });

  it("lead crews that there are", async () => {
    const operationId = await operation("led");
    const { crews } = (await store().latestOperation(operationId))!.document.fleet;
    const led = { operationId, crewId: crews[0]!.id };
    const good = await add("leads", ["crewLead"], { crews: [led] });
    expect(good.body.person.crews).toEqual([led]);
    linkIn(good.body.passwordLink!.address);
    const bad = await add("leads2", ["crewLead"], { crews: [led, { operationId, crewId: "none" }] });
    expect([bad.status, bad.body.faults?.map(({ path }) => path)]).toEqual([422, [["crews", 1]]]);
  });

  it("are changed by whoever has read them last, and at once", async () => {
    const { id, session } = await person("changing", ["dispatcher"]);
    const theirs = await session();
    const etag = (await call("GET", `/api/people/${id}`, shown)).headers.get("etag")!;
    const owner = { shownName: "Someone else", roles: ["owner"] };
    expect((await call("PUT", `/api/people/${id}`, shown, owner)).status).toBe(428);
    const changed = await change(id, etag, owner);
    expect(changed.body).toMatchObject(owner);
    expect((await change(id, etag, { ...owner, shownName: "Lost" })).status).toBe(412);
    expect((await call<SessionFacts>("GET", "/api/session", theirs)).body).toMatchObject({ roles: ["owner"] });
    expect((await call("GET", "/api/audit", theirs)).status).toBe(200);

    expect((await change(id, changed.headers.get("etag")!, { ...owner, active: false })).status).toBe(200);
    expect((await call("GET", "/api/session", theirs)).status).toBe(401);
    expect((await sql("select * from sessions where person_id = $1", [id])).rows).toEqual([]);
  });

  it("always have an administrator among them who can sign in", async () => {
    const etag = async (id: string) => (await call("GET", `/api/people/${id}`, shown)).headers.get("etag")!;
    const plain = { shownName: "Chief", roles: ["owner"] };
    const own = await etag(administrator.id);
    // One who has not set a password yet is none who could help.
    linkIn((await add("helpless", ["administrator"])).body.passwordLink!.address);
    for (const body of [plain, { shownName: "Chief", roles: ["administrator"], active: false }]) {
      expect((await change(administrator.id, own, body)).status).toBe(409);
    }
    const second = await person("second", ["administrator"]);
    const theirs = await second.session();
    const etags = [own, await etag(second.id)];
    // Each takes the role from the other at the same moment.
    const both = await Promise.all([
      call("PUT", `/api/people/${second.id}`, { ...shown, "if-match": etags[1]! }, plain),
      call("PUT", `/api/people/${administrator.id}`, { ...theirs, "if-match": etags[0]! }, plain),
    ]);
    const statuses = both.map(({ status }) => status).sort();
    // Whoever came second has no role any more, or is refused as the last.
    expect(statuses[0]).toBe(200);
    expect([403, 409]).toContain(statuses[1]);
    const { rows } = await sql<{ id: string }>(
      "select id from people where active and 'administrator' = any(roles) and password is not null",
    );
    expect(rows.length).toBe(1);
    // Back to where the other tests stand.
    await sql("update people set roles = '{administrator}' where id = $1", [administrator.id]);
  });
});

describe("tokens", () => {
  it("do what their person may, or less, until they are revoked", async () => {
    const both = await (await person("both", ["owner", "dispatcher"])).session();
    const make = async (body: object) =>
      call<{ token: Token; secret: string } & Problem>("POST", "/api/tokens", both, body);
    expect((await make({ name: "more", roles: ["administrator"] })).status).toBe(422);
    const made = await make({ name: "nightly", roles: ["owner"], days: 1 });
    const secret = told(made.body.secret);
    const bearer = { authorization: `Bearer ${secret}` };
    expect(secret).toMatch(/^calmhour_[\w-]{43}$/);
    const facts = (await call<SessionFacts>("GET", "/api/session", bearer)).body;
    expect(facts).toMatchObject({ kind: "token", name: "nightly of Shown both", roles: ["owner"], csrfToken: null });
    const forS = (Date.parse(made.body.token.expiresAt) - Date.parse(made.body.token.createdAt)) / 1000;
    expect(forS).toBe(24 * 3600);
    // It needs no other token, and a cookie beside it counts for nothing.
    expect((await call("POST", "/api/operations", { ...bearer, ...both }, {})).status).toBe(403);
    const [listed] = (await call<{ tokens: Token[] }>("GET", "/api/tokens", both)).body.tokens;
    expect(listed).toMatchObject({ name: "nightly", lastUsedAt: expect.any(String) });
    expect(JSON.stringify(listed)).not.toContain(secret);
    const path = `/api/tokens/${made.body.token.id}`;
    const others = await (await person("others", ["owner"])).session();
    expect((await call("DELETE", path, others)).status).toBe(404);
    expect((await call("DELETE", path, both)).status).toBe(200);
    expect((await call("GET", "/api/session", bearer)).status).toBe(401);
  });

  it("of others are revoked by an administrator", async () => {
    const { id, session } = await person("leaver", ["owner"]);
    const made = await call<{ token: Token; secret: string }>("POST", "/api/tokens", await session(), { name: "left" });
    const bearer = { authorization: `Bearer ${told(made.body.secret)}` };
    expect((await call("GET", "/api/session", bearer)).status).toBe(200);
    const listed = await call<{ tokens: Token[] }>("GET", `/api/people/${id}/tokens`, shown);
    expect(listed.body.tokens.map(({ name }) => name)).toEqual(["left"]);
    expect((await call("DELETE", `/api/people/${id}/tokens/${made.body.token.id}`, shown)).status).toBe(200);
    expect((await call("GET", "/api/session", bearer)).status).toBe(401);
  });
});

describe("links for crews' phones", () => {
  const text = createCrewLinkText(access.secret);
  const open = (link: string) => call<SessionFacts>("POST", "/api/crew-links/open", {}, { link });

  it("sign in for one crew until they expire or are withdrawn", async () => {
    const dispatcher = await (await person("linker", ["dispatcher"])).session();
    const operationId = await operation("phones");
    const crewId = (await store().latestOperation(operationId))!.document.fleet.crews[0]!.id;
    const path = `/api/operations/${operationId}/crews/${crewId}/links`;
    const made = await call<{ crewLink: CrewLink; address: string }>("POST", path, dispatcher, { note: "Ana's phone" });
    expect(made.status).toBe(201);
    expect(
      (Date.parse(made.body.crewLink.expiresAt) - Date.parse(made.body.crewLink.createdAt)) / 86_400_000,
    ).toBeCloseTo(7, 4);
    const nowhere = `/api/operations/${operationId}/crews/none/links`;
    expect((await call("POST", nowhere, dispatcher, {})).status).toBe(404);

    const link = linkIn(made.body.address);
    const opened = await open(link);
    expect(opened.body).toMatchObject({ kind: "crewLink", roles: [], crews: [{ operationId, crewId }] });
    const phone = shownOf(cookieOf(opened.headers));
    expect((await call("GET", "/api/session", phone)).status).toBe(200);
    // Every phone of the crew may open it.
    cookieOf((await open(link)).headers);

    expect((await call("DELETE", `/api/crew-links/${made.body.crewLink.id}`, dispatcher)).status).toBe(200);
    expect((await call("GET", "/api/session", phone)).status).toBe(401);
    expect((await open(link)).status).toBe(409);
    const listed = await call<{ crewLinks: CrewLink[] }>(
      "GET",
      `/api/operations/${operationId}/crew-links`,
      dispatcher,
    );
    expect(listed.body.crewLinks).toMatchObject([
      { note: "Ana's phone", byName: "Shown linker", revokedAt: expect.any(String) },
    ]);
  });

  it("are taken only as they were signed, and by their time", async () => {
    const id = "11111111-1111-4111-8111-111111111111";
    const [now, later] = [new Date("2027-06-14T04:00:00Z"), new Date("2027-06-15T04:00:00Z")];
    const good = await text.write(id, later);
    expect(await text.read(good, now)).toBe(id);
    expect(await text.read(good, later)).toBeNull();
    expect(await createCrewLinkText(`${access.secret}.`).read(good, now)).toBeNull();
    const part = (value: object) => Buffer.from(JSON.stringify(value)).toString("base64url");
    const [head, body, mark] = good.split(".");
    const longer = part({ jti: id, exp: later.getTime() / 1000 + 9_999_999 });
    // RFC 7515, appendix A.5: a signature of none; and one by the secret itself, which is not the key.
    const none = `${part({ alg: "none" })}.${body}.`;
    const byHand = createHmac("sha256", access.secret).update(`${head}.${body}`).digest("base64url");
    for (const bad of [`${head}.${longer}.${mark}`, none, `${head}.${body}.${byHand}`, `${head}.${body}`, "x", ""]) {
      expect(await text.read(bad, now), bad).toBeNull();
    }
    // Signed by us, and yet of no link that there is.
    expect((await open(await text.write(id, new Date(Date.now() + 60_000)))).status).toBe(409);
  });
});

describe("the audit trail", () => {
  it("tells who changed what, a page at a time, and is narrowed", async () => {
    const page = async (query: string) => (await call<AuditPage>("GET", `/api/audit?${query}`, shown)).body;
    const all = await page("limit=500");
    const actions = new Set(all.entries.map(({ action }) => action));
    const expected = ["addPerson", "changePerson", "makeToken", "revokeToken", "revokeTokenOf", "makePasswordLink"];
    for (const action of [...expected, "setPassword", "makeCrewLink", "openCrewLink", "revokeCrewLink"]) {
      expect(actions, action).toContain(action);
    }
    const paged: string[] = [];
    let cursor = "";
    do {
      const part = await page(`limit=7${cursor}`);
      expect(part.entries.length).toBeLessThanOrEqual(7);
      paged.push(...part.entries.map(({ id }) => id));
      cursor = part.next === null ? "" : `&cursor=${part.next}`;
    } while (cursor !== "");
    expect(paged).toEqual(all.entries.map(({ id }) => id));

    const changes = (await page("action=changePerson")).entries;
    expect(changes.length).toBeGreaterThan(0);
    expect(changes.every(({ action, callId }) => action === "changePerson" && callId !== null)).toBe(true);
    const [first] = changes.slice(-1);
    expect(first).toMatchObject({
      by: { kind: "person", id: administrator.id, name: "Shown chief" },
      details: { before: { roles: ["dispatcher"] }, after: { roles: ["owner"], shownName: "Someone else" } },
    });
    for (const who of [administrator.id, "Shown chief"]) {
      const entries = (await page(`limit=500&who=${encodeURIComponent(who)}`)).entries;
      expect(entries).toEqual(all.entries.filter(({ by }) => by.id === administrator.id));
    }
    const from = changes[0]!.at;
    expect((await page(`limit=500&from=${from}`)).entries.map(({ id }) => id)).toContain(changes[0]!.id);
    expect((await page("from=2999-01-01T00:00:00Z")).entries).toEqual([]);
    const { id } = (await store().listOperations()).find(({ name }) => name === "phones")!;
    const touched = (await page(`operation=${id}`)).entries.map(({ action }) => action);
    expect(touched).toEqual(["revokeCrewLink", "openCrewLink", "openCrewLink", "makeCrewLink", "test"]);
    expect((await call("GET", "/api/audit?from=0000-01-01T00:00:00Z", shown)).status).toBe(400);
  });
});

it("no secret that anybody was told or has typed stands anywhere in the database", async () => {
  const { rows: tables } = await sql<{ name: string }>(
    "select format('%I.%I', schemaname, tablename) as name from pg_tables where schemaname not in ('pg_catalog', 'information_schema')",
  );
  expect(tables.length).toBeGreaterThan(15);
  let dump = "";
  for (const { name } of tables) {
    const { rows } = await sql<{ row: string }>(`select row_to_json(t)::text as row from ${name} t`);
    dump += rows.map(({ row }) => row).join("\n");
  }
  expect(dump).toContain("Shown chief");
  expect(dump).toContain("$argon2id$v=19$m=19456,t=2,p=1$");
  expect(secrets.length).toBeGreaterThan(12);
  expect(secrets.filter((secret) => dump.includes(secret))).toEqual([]);
});
