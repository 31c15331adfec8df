import { createHash, createHmac, randomBytes, timingSafeEqual } from "node:crypto";

/** 256 bits of chance: nothing to guess, so a plain hash of it may be stored. */
export const randomSecret = (): string => randomBytes(32).toString("base64url");

export const hashOf = (secret: string): string => createHash("sha256").update(secret).digest("hex");

/** Of a session, made of what its cookie carries, so that it need not be stored. A page of another site can neither read that cookie nor make this. */
export const csrfTokenOf = (sessionSecret: string): string =>
  createHmac("sha256", sessionSecret).update("csrf").digest("base64url");

export function isSameText(one: string, other: string): boolean {
  // Of equal lengths whatever was given, and nothing is told by how long it takes.
  return timingSafeEqual(createHash("sha256").update(one).digest(), createHash("sha256").update(other).digest());
}
