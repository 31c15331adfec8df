import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";

export interface ProcessFacts {
  readonly parentPid: number;
  readonly command: string;
}

/** What runs under this id, or null when nothing does. */
export function processFacts(pid: number): ProcessFacts | null {
  return existsSync("/proc/self/stat") ? factsFromProc(pid) : factsFromPs(pid);
}

function factsFromProc(pid: number): ProcessFacts | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    // The name in parentheses may hold spaces; after it come the state and the parent: proc(5).
    const [state, parent] = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    if (state === "Z" || state === "X") return null;
    const command = readFileSync(`/proc/${pid}/cmdline`, "utf8").replaceAll("\0", " ").trim();
    return { parentPid: Number(parent), command };
  } catch {
    return null;
  }
}

function factsFromPs(pid: number): ProcessFacts | null {
  try {
    const line = execFileSync("ps", ["-ww", "-o", "ppid=,command=", "-p", String(pid)], { encoding: "utf8" }).trim();
    const parts = /^(\d+)\s+(.*)$/.exec(line);
    return parts ? { parentPid: Number(parts[1]), command: parts[2]! } : null;
  } catch {
    return null;
  }
}

export function sleep(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

/** True when the process has ended within the time. */
export async function endsWithin(pid: number, withinMs: number): Promise<boolean> {
  const deadlineMs = performance.now() + withinMs;
  while (processFacts(pid)) {
    if (performance.now() > deadlineMs) return false;
    await sleep(50);
  }
  return true;
}
