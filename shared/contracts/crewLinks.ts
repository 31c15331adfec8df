import { z } from "zod";
import { crewKeySchema, lineSchema } from "./people.ts";

export const crewLinkKeySchema = z.uuid().describe("id of a link for a crew's phone");

export const crewLinkDaysMost = 31;

export const newCrewLinkSchema = z.object({
  note: lineSchema.default("phone").describe("whose phone it is for"),
  days: z.number().int().min(1).max(crewLinkDaysMost).default(7).describe("until it expires"),
});

export const crewLinkSchema = crewKeySchema.extend({
  id: crewLinkKeySchema,
  note: z.string(),
  byName: z.string().describe("who has made it"),
  createdAt: z.iso.datetime(),
  expiresAt: z.iso.datetime(),
  revokedAt: z.iso.datetime().nullable(),
});

export const crewLinkListSchema = z.object({ crewLinks: z.array(crewLinkSchema) });

export const madeCrewLinkSchema = z.object({
  crewLink: crewLinkSchema,
  address: z.string().min(1).describe("to open on the phone: it sees this crew's days until the link expires"),
  calendarAddress: z
    .string()
    .min(1)
    .describe(
      "a feed of this crew's days for a calendar (RFC 5545), until the link expires; whoever knows it can read it",
    ),
});

export type CrewLink = z.infer<typeof crewLinkSchema>;
