import { real, tenths } from "./conventions.ts";
import type { RoutingInstance } from "./instance.ts";
import { readSolomon } from "./readSolomon.ts";
import { readVrplib } from "./readVrplib.ts";
import { readLines } from "./textFile.ts";

/**
 * An instance of any of the seven families. `objective` is for the two in Solomon's format (.txt): `distance` is the
 * convention of their .sol files, `vehicles` has real distances, for comparing the fewest routes and then the distance.
 * A file that cannot be read is an Error that names file and line.
 */
export function readInstance(path: string, objective: "distance" | "vehicles" = "distance"): RoutingInstance {
  const lines = readLines(path);
  return path.endsWith(".txt") ? readSolomon(lines, objective === "vehicles" ? real : tenths) : readVrplib(lines);
}
