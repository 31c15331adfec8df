import type { Token } from "../../../../shared/contracts/tokens.ts";

export function tokenState({ expiresAt, revokedAt }: Pick<Token, "expiresAt" | "revokedAt">, nowMs: number) {
  if (revokedAt !== null) return "withdrawn";
  return Date.parse(expiresAt) <= nowMs ? "over" : "valid";
}
