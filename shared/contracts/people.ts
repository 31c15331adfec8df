import { z } from "zod";
import { crewIdSchema } from "../model/quantities.ts";
import { roleSchema } from "./access.ts";
import { operationKeySchema } from "./operations.ts";
import { passwordLeastCharacters } from "./passwordRule.ts";

export const personKeySchema = z.uuid().describe("id of a person");

/** Letters, digits and a few signs, so that a name can be typed at any keyboard and told from any other. */
export const signInNameSchema = z
  .string()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N}._@-]{0,63}$/u, { error: "letters, digits and . _ @ - without spaces" })
  .describe("what a person types to sign in: letters, digits and . _ @ -; capital or small makes no difference");

/** Text of one line for people: no control characters and no halves of characters, which the store cannot keep. */
export const lineSchema = z
  .string()
  .regex(/^[^\p{Cc}\p{Cs}]{1,100}$/u, { error: "one line of at most 100 characters" });

export const shownNameSchema = lineSchema.describe("what others read");

/** How long it has to be is judged with the rest of it (access/passwords.ts), so that all is told in one sentence; here it is only stated. */
export const newPasswordSchema = z.string().max(200).meta({
  description: "any characters; not the name again and again, nor one character many times",
  minLength: passwordLeastCharacters,
});

export const crewKeySchema = z.object({ operationId: operationKeySchema, crewId: crewIdSchema });

const wholeRoles = z
  .array(roleSchema)
  .min(1)
  .max(4)
  .refine((given) => new Set(given).size === given.length, { error: "each role once" })
  .describe("what the person is in the house");

export const personChangeSchema = z.object({
  shownName: shownNameSchema,
  roles: wholeRoles,
  crews: z.array(crewKeySchema).max(200).default([]).describe("the crews that the person leads"),
  active: z.boolean().default(true).describe("false: can no longer sign in, and is signed out everywhere"),
});

export const newPersonSchema = personChangeSchema.omit({ active: true }).extend({ name: signInNameSchema });

export const personSchema = z.object({
  id: personKeySchema,
  name: signInNameSchema,
  shownName: shownNameSchema,
  roles: z.array(roleSchema),
  crews: z.array(crewKeySchema),
  active: z.boolean(),
  hasPassword: z.boolean().describe("false until the person has set one by the link"),
  createdAt: z.iso.datetime(),
});

export const personListSchema = z.object({ people: z.array(personSchema) });

/** Whoever lets people in need not see what an operation holds to say which crew somebody leads. */
export const crewsToLeadSchema = z.object({
  operations: z.array(
    z.object({
      id: operationKeySchema,
      name: z.string(),
      crews: z.array(z.object({ id: crewIdSchema, name: z.string() })),
    }),
  ),
});

/** A link is told once: only its hash is stored. */
export const passwordLinkSchema = z.object({
  address: z.string().min(1).describe("to open in a browser; it sets a password, once"),
  expiresAt: z.iso.datetime(),
});

export const addedPersonSchema = z.object({
  person: personSchema,
  passwordLink: passwordLinkSchema.nullable().describe("null where the same call was answered before"),
});

export type CrewsToLead = z.infer<typeof crewsToLeadSchema>;
export type Person = z.infer<typeof personSchema>;
export type PersonChange = z.infer<typeof personChangeSchema>;
export type NewPerson = z.infer<typeof newPersonSchema>;
