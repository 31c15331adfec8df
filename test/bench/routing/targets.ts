import type { RoutingInstance } from "./instance.ts";

/** A family, that of Gehring and Homberger by its size. */
export type Group = string;

export function groupOf({ family, stops }: RoutingInstance): Group {
  return family === "homberger" ? `homberger-${stops.length}` : family;
}

/** Mean distance from the best known, in percent, that the search must and that it should reach in so many seconds of one processor. */
interface Target {
  readonly seconds: number;
  readonly mustPct: number;
  readonly aimPct: number;
}

const targets: Readonly<Record<Group, readonly Target[]>> = {
  solomon: [{ seconds: 10, mustPct: 0.2, aimPct: 0.08 }],
  "homberger-200": [
    { seconds: 10, mustPct: 0.7, aimPct: 0.3 },
    { seconds: 60, mustPct: 0.4, aimPct: 0.2 },
  ],
  "homberger-1000": [
    { seconds: 10, mustPct: 3, aimPct: 2 },
    { seconds: 60, mustPct: 2, aimPct: 1.4 },
  ],
  depots: [{ seconds: 10, mustPct: 3, aimPct: 2 }],
  prize: [{ seconds: 60, mustPct: 2, aimPct: 1 }],
  sites: [{ seconds: 60, mustPct: 1, aimPct: 0.5 }],
  fleet: [{ seconds: 60, mustPct: 1, aimPct: 0.5 }],
  reload: [{ seconds: 60, mustPct: 1, aimPct: 0.5 }],
};

/** What a group's mean is worth after so many seconds; of several targets the one whose seconds were used up, or else the next. */
export function judgeMean(group: Group, meanPct: number, seconds: number): string {
  const list = targets[group] ?? [];
  const target = list.find((one) => one.seconds >= seconds) ?? list.at(-1);
  if (target === undefined) return "no target";
  const wanted = `must ${target.mustPct} %, aim ${target.aimPct} % in ${target.seconds} s`;
  if (seconds > target.seconds) return `${wanted}: ran longer`;
  if (meanPct <= target.aimPct) return `${wanted}: aim met`;
  if (meanPct <= target.mustPct) return `${wanted}: must met`;
  return `${wanted}: ${seconds < target.seconds ? "not met yet" : "MISSED"}`;
}
