import { firstLinkHours, linkPath } from "../access/links.ts";
import { hashOf, randomSecret } from "../access/secrets.ts";
import type { Store } from "../store/store.ts";

export interface FirstStartParts {
  readonly store: Store;
  /** Where the page is. */
  readonly address: string;
  readonly say: (line: string) => void;
}

/** Nobody can sign in yet: whoever reads the console becomes the first person. There is no password that comes with the house. */
export async function firstStart({ store, address, say }: FirstStartParts): Promise<void> {
  const secret = randomSecret();
  const expiresAt = await store.addFirstLink(hashOf(secret), firstLinkHours * 3600);
  if (expiresAt === null) return;
  say(
    `There is nobody yet who can sign in. Open this address to choose your name and password; it works once, within ${firstLinkHours} hours:`,
  );
  say(`  ${address}${linkPath("first", secret)}`);
}
