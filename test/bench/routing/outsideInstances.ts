import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { benchmarksFolder } from "../../support/needs.ts";
import type { RoutingInstance } from "./instance.ts";

export const routingFamilies: readonly RoutingInstance["family"][] = [
  "solomon",
  "homberger",
  "prize",
  "sites",
  "depots",
  "fleet",
  "reload",
];

export interface OutsideInstance {
  readonly name: string;
  readonly family: RoutingInstance["family"];
  readonly path: string;
  readonly solutionPath: string;
}

/** Every instance in the folder of outside data; none of a family whose folder is missing. */
export function listOutsideInstances(): OutsideInstance[] {
  return routingFamilies.flatMap((family) => {
    const folder = join(benchmarksFolder, family);
    if (!existsSync(folder)) return [];
    return readdirSync(folder)
      .filter((file) => /\.(txt|vrp)$/.test(file))
      .sort()
      .map((file) => ({
        name: file.slice(0, -".txt".length),
        family,
        path: join(folder, file),
        solutionPath: join(folder, `${file.slice(0, -".txt".length)}.sol`),
      }));
  });
}
