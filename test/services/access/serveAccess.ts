import pg from "pg";
import { afterAll, beforeAll, expect } from "vitest";
import { csrfTokenOf, hashOf, randomSecret } from "../../../services/access/secrets.ts";
import { createApp } from "../../../services/api/app.ts";
import { createAuthentication } from "../../../services/api/authenticate.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import { createMover } from "../../../services/moves/mover.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { createViewMaker } from "../../../services/views/viewMaker.ts";
import type { CrewKey, Role } from "../../../shared/contracts/access.ts";
import { crewKeySchema } from "../../../shared/contracts/people.ts";
import { access, acting } from "../../support/acting.ts";
import { idleQueue } from "../../support/idleQueue.ts";
import { openApiJudge } from "../../support/openApiJudge.ts";
import { smallOperation } from "../../support/operation.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";

export interface Told<T> {
  readonly status: number;
  readonly headers: Headers;
  readonly body: T;
}

/** Whoever calls: what is sent along with every call. */
export type Shown = Readonly<Record<string, string>>;

/** An API that knows who calls, with a database, for the tests of one file. Nothing is planned. `fillPage` builds what is served beside it. */
export function serveAccess(fillPage: (folder: string) => Promise<void> = async () => undefined) {
  let database: Awaited<ReturnType<typeof startTestDatabase>>;
  let page: ReturnType<typeof temporaryFolder>;
  let store: Store;
  let direct: pg.Client;
  let api: Listening;
  let judge: ReturnType<typeof openApiJudge>;
  const errors: unknown[] = [];
  const onError = (error: unknown) => errors.push(error);
  const mover = createMover({ onError });
  const maker = createViewMaker({ onError });
  const origin = () => `http://127.0.0.1:${api.port}`;

  beforeAll(async () => {
    database = await startTestDatabase();
    page = temporaryFolder();
    await fillPage(page.folder);
    store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: onError });
    direct = new pg.Client({ connectionString: database.databaseUrl });
    await direct.connect();
    api = await served(null);
    judge = openApiJudge((await (await fetch(`${origin()}/api/openapi.json`)).json()) as Record<string, unknown>);
  });
  afterAll(async () => {
    await api.close();
    await mover.close();
    await maker.close();
    await direct.end();
    await store.close();
    await database.stop();
    page.remove();
    expect(errors).toEqual([]);
  });

  async function served(publicOrigin: string | null): Promise<Listening> {
    const settings = { ...access, origin: publicOrigin };
    const authenticate = createAuthentication(store, settings);
    const parts = { store, queue: idleQueue, runs: idleQueue, mover, maker, access: settings, onError, authenticate };
    const app = createApp({ ...parts, pageFolder: page.folder });
    const bound = await listen(app, { host: "127.0.0.1", port: 18_480, orNext: true });
    if (bound.status !== "listening") throw new Error("no free port");
    return bound.api;
  }

  /** Every answer is judged by the OpenAPI document before it is looked at. */
  async function call<T>(method: string, path: string, shown: Shown = {}, body?: unknown): Promise<Told<T>> {
    const json = body === undefined ? {} : { "content-type": "application/json" };
    const response = await fetch(`${origin()}${path}`, {
      method,
      headers: { ...json, ...shown },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    judge(method, path, response, text);
    const told = text === "" ? undefined : JSON.parse(text);
    return { status: response.status, headers: response.headers, body: told as T };
  }

  /** A person with a session, without the cost of a password. */
  async function person(name: string, roles: readonly Role[], crews: readonly CrewKey[] = []) {
    const link = { hash: hashOf(randomSecret()), forS: 60 };
    const led = crewKeySchema.array().parse(crews);
    const added = await store.addPerson(
      { name, shownName: `Shown ${name}`, roles: [...roles], crews: led },
      link,
      acting,
    );
    if (added.outcome !== "made") throw new Error(added.outcome);
    const { id } = added.thing.person;
    await store.setPassword(link.hash, `not a hash: ${randomSecret()}`, hashOf(randomSecret()), acting);
    const session = () => sessionOf("person_id", id);
    return { id, session };
  }

  /** As signing in begins one, but for what that asks first. */
  async function sessionOf(whose: "person_id" | "crew_link_id", id: string): Promise<Shown> {
    const secret = randomSecret();
    const text = `insert into sessions (hash, ${whose}, expires_at) values ($1, $2, now() + interval '1 hour')`;
    await direct.query(text, [hashOf(secret), id]);
    return shownOf(secret);
  }

  /** What a browser with the session sends. That its token is the one that the page is told is asked in signIn.test.ts. */
  const shownOf = (sessionSecret: string): Shown => ({
    cookie: `calmhour=${sessionSecret}`,
    "x-csrf-token": csrfTokenOf(sessionSecret),
  });

  /** An operation with a crew that others have, too, by its id. */
  async function operation(name: string) {
    const { operation } = await store.importOperation(smallOperation({ settings: { name } }), acting);
    return operation.id;
  }

  return {
    call,
    served,
    person,
    sessionOf,
    shownOf,
    operation,
    origin,
    /** Where the built page has to lie to be handed out. */
    databaseUrl: () => database.databaseUrl,
    store: () => store,
    sql: <Row extends pg.QueryResultRow>(text: string, values: unknown[] = []) => direct.query<Row>(text, values),
  };
}
