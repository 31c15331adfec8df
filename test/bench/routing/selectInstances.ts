import { existsSync } from "node:fs";
import { basename } from "node:path";
import type { RoutingInstance } from "./instance.ts";
import { listOutsideInstances, routingFamilies } from "./outsideInstances.ts";
import { readInstance } from "./readInstance.ts";
import { readSolution } from "./readSolution.ts";
import { type Group, groupOf } from "./targets.ts";

export interface SelectedInstance {
  readonly name: string;
  readonly path: string;
  readonly family: RoutingInstance["family"];
  readonly group: Group;
  /** As the file beside it states, in the instance's unit. */
  readonly bestCost: number | undefined;
}

/** Instances by file, by family or by group; all without a word. */
export function selectInstances(words: readonly string[]): SelectedInstance[] {
  const known = listOutsideInstances();
  if (words.length === 0) return known.map(({ path }) => select(path));
  return words.flatMap((word) => {
    if (existsSync(word)) return [select(word)];
    const family = routingFamilies.find((one) => word === one || word.startsWith(`${one}-`));
    const selected = known
      .filter((one) => one.family === family)
      .map(({ path }) => select(path))
      .filter(({ group }) => word === family || word === group);
    if (selected.length === 0) throw new Error(`"${word}" is neither a file nor a family with instances`);
    return selected;
  });
}

function select(path: string): SelectedInstance {
  const instance = readInstance(path);
  const solutionPath = path.replace(/\.\w+$/, ".sol");
  return {
    name: basename(path).replace(/\.\w+$/, ""),
    path,
    family: instance.family,
    group: groupOf(instance),
    bestCost: existsSync(solutionPath) ? readSolution(solutionPath, instance).cost : undefined,
  };
}
