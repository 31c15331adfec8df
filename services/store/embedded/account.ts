import { execFileSync, spawnSync } from "node:child_process";

/** Postgres refuses to run as root; root hands it to this account. */
const accountName = "postgres";

export interface Account {
  readonly uid: number;
  readonly gid: number;
}

/** The account that Postgres is run under, or null: as ourselves. Made when root has none to give. */
export function postgresAccount(): Account | null {
  if (process.getuid?.() !== 0) return null;
  const known = lookUp();
  if (known) return known;
  const options = ["--system", "--user-group", "--no-create-home", "--shell", "/usr/sbin/nologin", accountName];
  execFileSync("useradd", options, { stdio: ["ignore", "ignore", "pipe"] });
  const made = lookUp();
  if (!made) throw new Error(`useradd has made no account ${accountName}`);
  return made;
}

function lookUp(): Account | null {
  const id = (flag: string) => {
    const { status, stdout } = spawnSync("id", [flag, accountName], { encoding: "utf8" });
    return status === 0 ? Number(stdout) : null;
  };
  const uid = id("-u");
  const gid = id("-g");
  return uid === null || gid === null ? null : { uid, gid };
}

/** Whether the account can get into a folder: asked of the system, which knows of every kind of permission. */
export function canEnter(account: Account, folder: string): boolean {
  return spawnSync("/bin/sh", ["-c", 'cd "$1"', "sh", folder], { ...account, cwd: "/" }).status === 0;
}
