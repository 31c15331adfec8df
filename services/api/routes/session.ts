import {
  changePasswordSchema,
  firstStartSchema,
  openLinkSchema,
  sessionSchema,
  setPasswordSchema,
  signInSchema,
} from "../../../shared/contracts/session.ts";
import { createCrewLinkText } from "../../access/crewLinkText.ts";
import { hashPassword, isPassword, passwordFault } from "../../access/passwords.ts";
import { csrfTokenOf, hashOf, randomSecret } from "../../access/secrets.ts";
import { endedCookie, sessionCookie, sessionSecretIn } from "../cookies.ts";
import { refuse } from "../problems.ts";
import { type Answer, type ApiParts, answers, type Call, type Route, route } from "../route.ts";
import { attemptKeys, nameKey } from "../throttle.ts";
import { none } from "./parameters.ts";

const signedIn = { 200: answers("Signed in: the session's cookie is set", sessionSchema) };
const wrong = refuse(401, "The name or the password is wrong.", []);
const linkHoldsNoMore = refuse(409, "This link has been used, has expired or is not whole; ask for a new one.", []);
/** There is nobody to ask yet. */
const firstLinkHoldsNoMore = refuse(
  409,
  "This link has been used, has expired or is not whole. As long as nobody can sign in, each start of Calmhour prints a new one.",
  [],
);
const busy: Answer = waitAnswer(503, "Many people are signing in just now; try again in a moment.", 2);

function waitAnswer(status: number, detail: string, retryAfterS: number): Answer {
  const { problem } = refuse(status, detail, []) as Extract<Answer, { kind: "problem" }>;
  return { kind: "problem", problem, retryAfterS };
}

function tooOften(waitS: number): Answer {
  const minutes = Math.ceil(waitS / 60);
  const when = minutes === 1 ? "in a minute" : `in ${minutes} minutes`;
  return waitAnswer(429, `Too many tries to sign in; try again ${when}.`, waitS);
}

const passwordRefused = (fault: string): Answer =>
  refuse(422, `The password needs ${fault}.`, [{ path: ["password"], value: null, expected: fault }]);

/** A session that has just begun. Whatever session the browser had before ends: nobody can have planted it. */
async function begun({ store, access }: ApiParts, call: Call, secret: string): Promise<Answer> {
  const before = sessionSecretIn(access, call.header("cookie"));
  if (before !== null) await store.signOut(hashOf(before));
  const caller = await store.callerOfSession(hashOf(secret));
  if (!caller) return wrong;
  return {
    kind: "body",
    status: 200,
    body: { ...caller, csrfToken: csrfTokenOf(secret) },
    headers: { "set-cookie": sessionCookie(access, secret, caller.kind === "crewLink"), "cache-control": "no-store" },
  };
}

export const sessionRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/session",
    id: "signIn",
    summary: "Sign in with name and password",
    params: none,
    query: none,
    body: { schema: signInSchema, optional: false },
    answers: signedIn,
    problems: [422, 429, 503],
    async handle(parts, { body, call }) {
      const { store } = parts;
      // Keyboards of phones put a space behind a word, and some put letters and their marks one after the other.
      const name = body.name.trim().normalize("NFC");
      const attempt = await store.beginAttempt(attemptKeys(name, call.address));
      if (attempt.status === "wait") return tooOften(attempt.waitS);
      const facts = await store.signInFacts(name);
      const isRight = await isPassword(body.password, facts?.password ?? null);
      if (isRight === "busy") return busy;
      const secret = randomSecret();
      if (!isRight || !facts || !(await store.signIn(facts, hashOf(secret), call.acting))) return wrong;
      await store.forgetAttempt(attempt.attemptId, nameKey(name));
      return begun(parts, call, secret);
    },
  }),

  route({
    method: "get",
    path: "/api/session",
    id: "session",
    summary: "Who calls, what they are, and what to send along with calls that change something",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("The caller", sessionSchema) },
    problems: [],
    async handle({ access }, { call }) {
      const secret = call.actor?.kind === "token" ? null : sessionSecretIn(access, call.header("cookie"));
      return {
        kind: "body",
        status: 200,
        body: { ...call.actor, csrfToken: secret === null ? null : csrfTokenOf(secret) },
        headers: { "cache-control": "no-store" },
      };
    },
  }),

  route({
    method: "delete",
    path: "/api/session",
    id: "signOut",
    summary: "Sign out",
    params: none,
    query: none,
    body: null,
    answers: { 204: answers("Signed out", sessionSchema) },
    problems: [],
    async handle({ store, access }, { call }) {
      const secret = sessionSecretIn(access, call.header("cookie"));
      if (secret !== null) await store.signOut(hashOf(secret));
      return { kind: "empty", headers: { "set-cookie": endedCookie(access) } };
    },
  }),

  route({
    method: "post",
    path: "/api/session/password",
    id: "changePassword",
    summary: "Change your own password; you are signed out everywhere else",
    params: none,
    query: none,
    body: { schema: changePasswordSchema, optional: false },
    answers: signedIn,
    problems: [409, 422, 429, 503],
    async handle(parts, { body, call }) {
      const { store } = parts;
      const own = await store.person(call.actor!.id);
      if (!own) return wrong;
      const { name } = own.person;
      const fault = passwordFault(body.password, name);
      if (fault !== null) return passwordRefused(fault);
      const attempt = await store.beginAttempt(attemptKeys(name, call.address));
      if (attempt.status === "wait") return tooOften(attempt.waitS);
      const known = (await store.signInFacts(name))?.password ?? null;
      const isRight = await isPassword(body.current, known);
      if (isRight === "busy") return busy;
      const currentIsWrong = refuse(409, "The current password is wrong.", []);
      if (!isRight || known === null) return currentIsWrong;
      const password = await hashPassword(body.password);
      if (password === "busy") return busy;
      const secret = randomSecret();
      const isChanged = await store.changePassword(call.actor!.id, known, password, hashOf(secret), call.acting);
      if (!isChanged) return currentIsWrong;
      await store.forgetAttempt(attempt.attemptId, nameKey(name));
      return begun(parts, call, secret);
    },
  }),

  route({
    method: "post",
    path: "/api/password-links/use",
    id: "setPassword",
    summary: "Set a password by a link that was given for it, and sign in",
    params: none,
    query: none,
    body: { schema: setPasswordSchema, optional: false },
    answers: signedIn,
    problems: [409, 422, 503],
    async handle(parts, { body, call }) {
      const { store } = parts;
      const purpose = await store.linkPurpose(hashOf(body.link));
      if (!purpose?.person) return linkHoldsNoMore;
      const fault = passwordFault(body.password, purpose.person.name);
      if (fault !== null) return passwordRefused(fault);
      const password = await hashPassword(body.password);
      if (password === "busy") return busy;
      const secret = randomSecret();
      const isSet = await store.setPassword(hashOf(body.link), password, hashOf(secret), call.acting);
      if (!isSet) return linkHoldsNoMore;
      await store.forgetAttempt(null, nameKey(purpose.person.name));
      return begun(parts, call, secret);
    },
  }),

  route({
    method: "post",
    path: "/api/first-start",
    id: "firstStart",
    summary: "Make the first person by the link that the console has printed, and sign in",
    params: none,
    query: none,
    body: { schema: firstStartSchema, optional: false },
    answers: signedIn,
    problems: [409, 422, 503],
    async handle(parts, { body, call }) {
      const { store } = parts;
      const purpose = await store.linkPurpose(hashOf(body.link));
      if (!purpose || purpose.person !== null) return firstLinkHoldsNoMore;
      const fault = passwordFault(body.password, body.name);
      if (fault !== null) return passwordRefused(fault);
      const password = await hashPassword(body.password);
      if (password === "busy") return busy;
      const secret = randomSecret();
      const isMade = await store.addFirstPerson(hashOf(body.link), { ...body, password }, hashOf(secret), call.acting);
      return isMade ? begun(parts, call, secret) : firstLinkHoldsNoMore;
    },
  }),

  route({
    method: "post",
    path: "/api/crew-links/open",
    id: "openCrewLink",
    summary: "Open a link for a crew's phone: signed in for this crew until the link expires",
    params: none,
    query: none,
    body: { schema: openLinkSchema, optional: false },
    answers: signedIn,
    problems: [409, 422],
    async handle(parts, { body, call }) {
      const { store, access } = parts;
      const linkId = await createCrewLinkText(access.secret).read(body.link, await store.timeNow());
      const secret = randomSecret();
      if (linkId === null || !(await store.openCrewLink(linkId, hashOf(secret), call.acting))) {
        return refuse(409, "This link has expired, was withdrawn or is not whole; ask for a new one.", []);
      }
      return begun(parts, call, secret);
    },
  }),
];
