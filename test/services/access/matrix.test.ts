import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { hashOf, randomSecret } from "../../../services/access/secrets.ts";
import { accessTable, type Caller, callers, personOnly } from "../../../services/api/access.ts";
import type { Route } from "../../../services/api/route.ts";
import { routeTable } from "../../../services/api/routeTable.ts";
import { type CrewKey, type Role, roles } from "../../../shared/contracts/access.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { type Shown, serveAccess } from "./serveAccess.ts";

const { person, operation, store, sql, sessionOf, shownOf, origin } = serveAccess();

/** One way to call, and what the table says of whoever calls so. */
interface Way {
  readonly name: string;
  /** Columns of the table, beside that of nobody; the most that any of them allows is allowed. Null: as good as nobody. */
  readonly columns: readonly Caller[] | null;
  readonly crews: readonly CrewKey[];
  readonly isToken?: boolean;
  readonly readOnly?: boolean;
  /** Afresh for every call, since some calls end what they were made with. */
  show(): Promise<Shown>;
}

const ways: Way[] = [];
let own: CrewKey;
let otherCrew: CrewKey;
let otherOperation: CrewKey;
const csrf = "x-csrf-token";

beforeAll(async () => {
  const [operationId, other] = [await operation("one"), await operation("other")];
  const document = (await store().latestOperation(operationId))!.document;
  const crewId = document.fleet.crews[0]!.id;
  own = { operationId, crewId };
  otherCrew = { operationId, crewId: "another crew" };
  otherOperation = { operationId: other, crewId };
  const forS = 3600;

  const link = async () => {
    const { id } = await madeBy(store().addCrewLink(own, "phone", forS, acting));
    const secret = randomSecret();
    await store().openCrewLink(id, hashOf(secret), acting);
    return { id, secret };
  };
  const token = async (personId: string, given: readonly Role[], readOnly: boolean) => {
    const secret = randomSecret();
    const hash = hashOf(secret);
    const { id } = await madeBy(
      store().addToken({ personId, hash, name: "t", roles: given, readOnly, forS }, { ...acting, once: null }),
    );
    return { id, shown: { authorization: `Bearer ${secret}` } };
  };
  const way = (name: string, columns: Caller[] | null, show: Way["show"], rest: Partial<Way> = {}) =>
    ways.push({ name, columns, crews: [], show, ...rest });

  way("nobody", null, async () => ({}));
  for (const role of roles) {
    const one = await person(role, [role], [own]);
    way(role, [role], one.session, { crews: [own] });
  }
  const many = await person("many", ["crewLead", "owner", "dispatcher"], [own]);
  way("several roles", ["crewLead", "owner", "dispatcher"], many.session, { crews: [own] });
  const former = await person("former", ["owner"], [own]);
  way("leads no more, though its crew is noted", ["owner"], former.session);

  const full = await token(many.id, ["crewLead", "owner", "dispatcher"], false);
  way("token", ["crewLead", "owner", "dispatcher"], async () => full.shown, { crews: [own], isToken: true });
  const narrow = await token(many.id, ["owner"], false);
  way("token for one role of several", ["owner"], async () => narrow.shown, { isToken: true });
  const wide = await token(former.id, ["owner", "administrator"], false);
  way("token for a role that its person has lost", ["owner"], async () => wide.shown, { isToken: true });
  const empty = await token(former.id, ["administrator"], false);
  way("token for nothing but such a role", [], async () => empty.shown, { isToken: true });
  const reader = await token(many.id, ["crewLead", "owner", "dispatcher"], true);
  way("token for reading", ["crewLead", "owner", "dispatcher"], async () => reader.shown, {
    crews: [own],
    isToken: true,
    readOnly: true,
  });
  const opened = await link();
  way("link", ["crewLink"], () => sessionOf("crew_link_id", opened.id), { crews: [own] });

  // From here on what is shown holds no more: as good as nobody.
  const refused = (name: string, show: Way["show"]) => way(name, null, show);
  const everything = await person("everything", roles, [own]);
  const changed = async (text: string) => {
    const shown = await everything.session();
    await sql(text, [hashOf(shown.cookie!.split("=")[1]!)]);
    return shown;
  };
  const ended = {
    "a month old": "expires_at = now()",
    "idle for a night": "last_seen_at = now() - interval '12 hours'",
  };
  for (const [name, set] of Object.entries(ended)) {
    const shown = await changed(`update sessions set ${set} where hash = $1`);
    refused(`session ${name}`, async () => shown);
  }
  const out = await changed("delete from sessions where hash = $1");
  refused("session signed out", async () => out);
  const revoked = await token(everything.id, roles, false);
  await store().revokeToken(everything.id, revoked.id, acting);
  refused("token revoked", async () => revoked.shown);
  const old = await token(everything.id, roles, false);
  await sql("update tokens set expires_at = now() where id = $1", [old.id]);
  refused("token expired", async () => old.shown);
  const withdrawn = await link();
  const withdrawnShown = shownOf(withdrawn.secret);
  await store().revokeCrewLink(withdrawn.id, acting);
  refused("link revoked", async () => withdrawnShown);
  const late = await link();
  const lateShown = shownOf(late.secret);
  await sql("update crew_links set expires_at = now() where id = $1", [late.id]);
  refused("link expired", async () => lateShown);
  refused("made up", async () => ({ cookie: `calmhour=${randomSecret()}`, [csrf]: "x" }));
  refused("made up token", async () => ({ authorization: `Bearer ${randomSecret()}` }));

  const gone = await person("gone", roles, [own]);
  const goneToken = await token(gone.id, roles, false);
  const goneShown = await gone.session();
  // Its session is left, as if it had begun at the same moment.
  await sql("update people set active = false where id = $1", [gone.id]);
  refused("person who may no longer come in", async () => goneShown);
  refused("its token", async () => goneToken.shown);
}, 60_000);

/** Of a route the crews that it can be called for. */
const targetsOf = ({ path }: Route): readonly CrewKey[] =>
  path.includes("{crewId}") ? [own, otherCrew, otherOperation] : [own];

function isAllowed(route: Route, way: Way, target: CrewKey): boolean {
  if (way.isToken && personOnly.has(route.id)) return false;
  if (way.readOnly && route.method !== "get") return false;
  const row = accessTable[route.id]!;
  const isOwn = way.crews.some((crew) => crew.operationId === target.operationId && crew.crewId === target.crewId);
  return ["nobody" as const, ...(way.columns ?? [])].some(
    (column) => row[column] === "yes" || (row[column] === "own" && isOwn),
  );
}

/** Ids that exist where they tell whose it is; of everything else any. */
function addressOf({ path }: Route, target: CrewKey): string {
  const known: Record<string, string> = { ...target, version: "1", date: "2027-06-14" };
  return path.replaceAll(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(known[name] ?? randomUUID()));
}

async function statusOf(route: Route, target: CrewKey, shown: Shown): Promise<number> {
  const hasBody = route.body !== null;
  const response = await fetch(`${origin()}${addressOf(route, target)}`, {
    method: route.method.toUpperCase(),
    headers: { ...shown, ...(hasBody ? { "content-type": "application/json" } : {}) },
    ...(hasBody ? { body: "{}" } : {}),
  });
  // Streams may last; what ends is read, so that its connection is used again.
  if (response.headers.get("content-type")?.startsWith("text/event-stream")) await response.body?.cancel();
  else await response.arrayBuffer();
  return response.status;
}

interface Call {
  readonly route: Route;
  readonly way: Way;
  readonly target: CrewKey;
}

/** What does not go as the table says, in words. */
async function surprise({ route, way, target }: Call): Promise<string | null> {
  const allowed = isAllowed(route, way, target);
  const status = await statusOf(route, target, await way.show());
  const isRight = allowed
    ? status !== 401 && status !== 403 && status < 500
    : status === (way.columns === null ? 401 : 403);
  return isRight ? null : `${way.name}: ${route.id} of ${target.crewId}: ${allowed ? "allowed" : "refused"}, ${status}`;
}

async function surprises(calls: readonly Call[]): Promise<string[]> {
  const found: string[] = [];
  const left = [...calls];
  const next = async () => {
    for (let call = left.pop(); call; call = left.pop()) {
      const told = await surprise(call);
      if (told !== null) found.push(told);
    }
  };
  await Promise.all(Array.from({ length: 6 }, next));
  return found;
}

describe("who may call what", () => {
  it("is said of every route and of nothing else, and of crews only where the address names one", () => {
    expect(Object.keys(accessTable).sort()).toEqual(routeTable.map(({ id }) => id).sort());
    for (const { id, path } of routeTable) {
      if (!Object.values(accessTable[id]!).includes("own")) continue;
      expect(path, id).toMatch(/\{operationId\}.*\{crewId\}/);
    }
    expect([...personOnly].filter((id) => !(id in accessTable))).toEqual([]);
  });

  it("holds for every route, every way to call and every crew", async () => {
    const calls = routeTable.flatMap((route) =>
      ways.flatMap((way) => targetsOf(route).map((target) => ({ route, way, target }))),
    );
    expect(await surprises(calls)).toEqual([]);
    const allowed = calls.filter(({ route, way, target }) => isAllowed(route, way, target)).length;
    console.log(
      `access: ${routeTable.length} routes x ${callers.length} columns; ${ways.length} ways to call, ${calls.length} calls, ${allowed} allowed, ${calls.length - allowed} refused`,
    );
    // Both happen to every kind of caller that the table tells apart.
    expect(new Set(ways.flatMap(({ columns }): readonly Caller[] => columns ?? ["nobody"]))).toEqual(new Set(callers));
  }, 240_000);

  it("lets nothing through that changes something by a session's cookie alone", async () => {
    const everything = ways.filter(({ columns, isToken }) => !isToken && columns !== null);
    const writing = routeTable.filter(({ method, id }) => method !== "get" && accessTable[id]!.nobody === "no");
    expect(writing.length).toBeGreaterThan(10);
    for (const way of everything) {
      const { cookie } = await way.show();
      for (const route of writing) expect(await statusOf(route, own, { cookie: cookie! }), route.id).toBe(403);
    }
  }, 60_000);
});
