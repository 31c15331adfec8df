import { z } from "zod";

/** What a person is in the house; one may be several. */
export const roles = ["dispatcher", "crewLead", "owner", "administrator"] as const;
export type Role = (typeof roles)[number];
export const roleSchema = z.enum(roles);

/** A crew of an operation, as a crew lead or a link for a crew's phone is bound to it. */
export interface CrewKey {
  readonly operationId: string;
  readonly crewId: string;
}
