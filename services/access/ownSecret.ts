import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { randomSecret } from "./secrets.ts";

/** The secret of an own database's data folder, made when it is not there. For its owner's eyes only. */
export function ownSecret(dataFolder: string): string {
  const path = join(dataFolder, "secret");
  mkdirSync(dataFolder, { recursive: true });
  try {
    writeFileSync(path, `${randomSecret()}\n`, { mode: 0o600, flag: "wx" });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
  }
  return readFileSync(path, "utf8").trim();
}
