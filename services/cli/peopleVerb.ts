import { linkPath, passwordLinkHours } from "../access/links.ts";
import { hashOf, randomSecret } from "../access/secrets.ts";
import { actingAsService } from "../store/acting.ts";
import { besideStore } from "./besideStore.ts";
import { BadInput, exitCodes, print } from "./output.ts";
import { readServiceSettings } from "./serviceSettings.ts";

/** For whoever has lost a password that nobody else may reset: whoever can run this beside the store has the data anyway. */
export async function resetPersonVerb(name: string): Promise<number> {
  const { origin, port } = readServiceSettings();
  const secret = randomSecret();
  await besideStore("expected it stopped", async (store) => {
    const people = await store.people();
    const person = people.find((one) => one.name.toLowerCase() === name.toLowerCase());
    if (!person?.active) {
      const active = people.filter((one) => one.active).map((one) => one.name);
      const known = active.length > 0 ? `expected one of ${active.slice(0, 12).join(", ")}` : "there is nobody yet";
      throw new BadInput([`nobody signs in as ${name}; ${known}`]);
    }
    const link = { hash: hashOf(secret), forS: passwordLinkHours * 3600 };
    await store.addPasswordLink(person.id, link, actingAsService("resetPerson"));
  });
  print(
    `Open this address on a running Calmhour to choose a new password; it works once, within ${passwordLinkHours} hours:`,
  );
  print(`  ${origin ?? `http://127.0.0.1:${port}`}${linkPath("password", secret)}`);
  return exitCodes.good;
}
