import { z } from "zod";
import { roleSchema } from "./access.ts";
import { crewKeySchema, newPasswordSchema, shownNameSchema, signInNameSchema } from "./people.ts";

/** A password that is only compared: what cannot be one is simply wrong. */
const givenPasswordSchema = z.string().min(1).max(1000);
/** What a link carries behind its #. */
const linkTextSchema = z.string().min(1).max(1000);

/** Whatever was typed for a name; the store cannot look up control characters and halves of characters. */
const givenNameSchema = z.string().regex(/^[^\p{Cc}\p{Cs}]{1,200}$/u);

export const signInSchema = z.object({ name: givenNameSchema, password: givenPasswordSchema });

export const changePasswordSchema = z.object({ current: givenPasswordSchema, password: newPasswordSchema });

export const setPasswordSchema = z.object({ link: linkTextSchema, password: newPasswordSchema });

export const firstStartSchema = setPasswordSchema.extend({ name: signInNameSchema, shownName: shownNameSchema });

export const openLinkSchema = z.object({ link: linkTextSchema });

export const sessionSchema = z.object({
  kind: z.enum(["person", "token", "crewLink"]),
  id: z.string().describe("of the person, token or link"),
  name: z.string().describe("what others read"),
  roles: z.array(roleSchema),
  crews: z.array(crewKeySchema).describe("the caller's own crews"),
  readOnly: z.boolean(),
  csrfToken: z
    .string()
    .nullable()
    .describe("to send as X-CSRF-Token with every call that is not GET; null for tokens, which need none"),
});

export type SessionFacts = z.infer<typeof sessionSchema>;
