import { z } from "zod";
import {
  madeTokenSchema,
  newTokenSchema,
  tokenKeySchema,
  tokenListSchema,
  tokenSchema,
} from "../../../shared/contracts/tokens.ts";
import { hashOf, randomSecret } from "../../access/secrets.ts";
import { otherCall, refuseWhole, unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none, personParams, tokenParams } from "./parameters.ts";

/** So that whoever finds one in a file knows what it is. */
const tokenStart = "calmhour_";

const revoked = { 200: answers("The token, which holds no more", tokenSchema) };

export const tokenRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/tokens",
    id: "listTokens",
    summary: "Your own tokens, without their secrets, newest first",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("The tokens", tokenListSchema) },
    problems: [],
    handle: async ({ store }, { call }) => ok({ tokens: await store.tokensOf(call.actor!.id) }),
  }),

  route({
    method: "post",
    path: "/api/tokens",
    id: "makeToken",
    summary: "Make a token for a program that calls in your name; its secret is told once",
    params: none,
    query: none,
    once: true,
    body: { schema: newTokenSchema, optional: false },
    answers: {
      200: answers("The same call was answered before", madeTokenSchema),
      201: answers("The token and its secret", madeTokenSchema),
    },
    problems: [422],
    async handle({ store }, { body, call }) {
      const own = call.actor!.roles;
      const roles = body.roles ?? own;
      const others = roles.filter((role) => !own.includes(role));
      if (others.length > 0) {
        return refuseWhole(
          others.map((role) => ({ path: ["roles"], value: role, expected: "a role that you have yourself" })),
        );
      }
      const secret = `${tokenStart}${randomSecret()}`;
      const { name, readOnly, days } = body;
      const added = await store.addToken(
        { personId: call.actor!.id, hash: hashOf(secret), name, roles, readOnly, forS: days * 24 * 3600 },
        call.acting,
      );
      if (added.outcome === "otherCall") return otherCall;
      const isNew = added.outcome === "made";
      return {
        kind: "body",
        status: isNew ? 201 : 200,
        body: { token: added.thing, secret: isNew ? secret : null },
        headers: { "cache-control": "no-store" },
      };
    },
  }),

  route({
    method: "delete",
    path: "/api/tokens/{tokenId}",
    id: "revokeToken",
    summary: "Revoke one of your own tokens",
    params: tokenParams,
    query: none,
    body: null,
    answers: revoked,
    problems: [404],
    async handle({ store }, { params, call }) {
      const found = await store.revokeToken(call.actor!.id, params.tokenId, call.acting);
      return found ? ok(found) : unknownThing("token");
    },
  }),

  route({
    method: "get",
    path: "/api/people/{personId}/tokens",
    id: "tokensOfPerson",
    summary: "A person's tokens, without their secrets, newest first",
    params: personParams,
    query: none,
    body: null,
    answers: { 200: answers("The tokens", tokenListSchema) },
    problems: [],
    handle: async ({ store }, { params }) => ok({ tokens: await store.tokensOf(params.personId) }),
  }),

  route({
    method: "delete",
    path: "/api/people/{personId}/tokens/{tokenId}",
    id: "revokeTokenOf",
    summary: "Revoke a person's token",
    params: personParams.extend(z.object({ tokenId: tokenKeySchema }).shape),
    query: none,
    body: null,
    answers: revoked,
    problems: [404],
    async handle({ store }, { params, call }) {
      const found = await store.revokeToken(params.personId, params.tokenId, call.acting);
      return found ? ok(found) : unknownThing("token");
    },
  }),
];
