import { createHmac } from "node:crypto";
import { jwtVerify, SignJWT } from "jose";
import { z } from "zod";

/** What a link for a crew's phone carries: signed (JWS of RFC 7515 with HS256), so that nobody can make one, and what is revoked is looked up by its id. */
export function createCrewLinkText(secret: string) {
  // A key of its own, so that what is signed for one purpose is good for no other.
  const key = createHmac("sha256", secret).update("links for crews").digest();
  return {
    write: (linkId: string, expiresAt: Date): Promise<string> =>
      new SignJWT().setProtectedHeader({ alg: "HS256" }).setJti(linkId).setExpirationTime(expiresAt).sign(key),

    /** The link's id; null where it is not ours or has expired by `now`. */
    async read(text: string, now: Date): Promise<string | null> {
      try {
        const { payload } = await jwtVerify(text, key, {
          algorithms: ["HS256"],
          requiredClaims: ["jti", "exp"],
          currentDate: now,
        });
        return z.uuid().safeParse(payload.jti).data ?? null;
      } catch {
        return null;
      }
    },
  };
}
