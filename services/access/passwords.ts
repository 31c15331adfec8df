import { hash, type Options, verify } from "@node-rs/argon2";
import { passwordLeastCharacters } from "../../shared/contracts/passwordRule.ts";
import { randomSecret } from "./secrets.ts";

/** OWASP Password Storage Cheat Sheet: argon2id (2 in RFC 9106, section 3.1) with at least 19 MiB, 2 passes, 1 lane. */
const costs: Options = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** Our choice. Each takes 19 MiB and a core: sign-ins must not take the machine from the planning. */
const atOnceMost = 2;
const waitingMost = 20;

let running = 0;
const waiting: (() => void)[] = [];

/** `busy`: too many people are signing in. */
async function inTurn<T>(work: () => Promise<T>): Promise<T | "busy"> {
  if (running >= atOnceMost) {
    if (waiting.length >= waitingMost) return "busy";
    await new Promise<void>((resolve) => waiting.push(resolve));
  } else running++;
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next) next();
    else running--;
  }
}

/** NIST SP 800-63B: the same characters typed at different keyboards are the same password. */
const normal = (password: string) => password.normalize("NFKC");

export const hashPassword = (password: string): Promise<string | "busy"> => inTurn(() => hash(normal(password), costs));

let decoy: Promise<string> | null = null;

/** Takes as long where there is no such person, or no password yet: it compares with a password that nobody has. */
export async function isPassword(password: string, stored: string | null): Promise<boolean | "busy"> {
  decoy ??= hash(randomSecret(), costs);
  const other = await decoy;
  const same = await inTurn(() => verify(stored ?? other, normal(password)));
  return same === "busy" ? same : same && stored !== null;
}

/** What a password lacks, in words for whoever chose it, or null. Our choice, in place of a list of passwords that are often used. */
export function passwordFault(password: string, name: string): string | null {
  const characters = [...normal(password)];
  if (characters.length < passwordLeastCharacters) return `at least ${passwordLeastCharacters} characters`;
  if (new Set(characters).size < 5) return "at least 5 different characters";
  const without = [name, "calmhour", "password"].reduce(
    (left, word) => left.replaceAll(word.toLowerCase(), ""),
    normal(password).toLowerCase(),
  );
  return [...without].length < 8 ? "at least 8 characters beside your name and the word password" : null;
}
