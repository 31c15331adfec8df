import type { Because, ConflictKind, Obstacle } from "../../../shared/plan/plan.ts";
import { obstacleWords } from "../../../shared/plan/words.ts";

/** Our choice: a sentence names so many obstacles of a set; the set holds them all. */
const mostTold = 4;

/** The conflict in one sentence, from its smallest sets. `head` comes before what they say. */
export function sentenceOf(kind: ConflictKind, { sets, hasMore }: Because, datesWords: string, head = ""): string {
  const [first, ...others] = sets as [Obstacle[], ...Obstacle[][]];
  if (kind === "contradiction") return contradictionWords(first, datesWords);
  if (!isTimed(first)) return joined(first);
  const other = others.filter(isTimed);
  return `${head === "" ? timedWords(first, datesWords) : `${head}: ${joined(reasonsIn(first))}`}${alsoWords(first, other, hasMore)}`;
}

/** The order's own dates are where one looks, not what stops it, unless nothing else does. */
function reasonsIn(set: readonly Obstacle[]): readonly Obstacle[] {
  const others = set.filter(({ limit }) => limit !== "dates");
  return others.length === 0 ? set : others;
}

function isTimed(set: readonly Obstacle[]): boolean {
  return set.some(({ limit }) => limit === "dates" || "at" in (set.find((one) => one.limit === limit)?.data ?? {}));
}

function contradictionWords(set: readonly Obstacle[], datesWords: string): string {
  const phi = set.find(({ limit }) => limit === "phi");
  const hasDates = set.some(({ limit }) => limit === "dates");
  if (phi !== undefined)
    return hasDates
      ? `its dates (${datesWords}) are too near the harvest: ${phi.sentence}`
      : `every minute of this plan's days is too near the harvest: ${phi.sentence}`;
  if (hasDates && set.length === 1) return `its dates leave nothing of this plan's days: ${datesWords}`;
  return joined(set);
}

function timedWords(set: readonly Obstacle[], datesWords: string): string {
  const reasons = reasonsIn(set);
  const when = set.some(({ limit }) => limit === "dates")
    ? `between its dates (${datesWords})`
    : "on any day of this plan";
  return `no time is left ${when}: ${joined(reasons)}`;
}

/** Further sets, by name: what each has in place of one obstacle of the first, or all of it. */
function alsoWords(first: readonly Obstacle[], others: readonly (readonly Obstacle[])[], hasMore: boolean): string {
  if (others.length === 0) return "";
  const reasons = reasonsIn(first);
  const more = hasMore ? ", among others" : "";
  const replaced = reasons.find(({ limit }) => others.every((set) => isOtherOnlyIn(set, first, limit)));
  if (replaced === undefined) return `; ${others.map(namesOf).join("; or ")} would keep it out as well${more}`;
  const names = others.map((set) => obstacleWords[set.find((one) => !hasSame(first, one))!.limit]);
  return reasons.length === 1
    ? `; ${either(names)} alone would keep it out as well${more}`
    : `; in place of ${obstacleWords[replaced.limit]}, ${either(names)} would do as well${more}`;
}

/** Whether a set is the first one with another obstacle in place of one of its. */
function isOtherOnlyIn(set: readonly Obstacle[], first: readonly Obstacle[], limit: Obstacle["limit"]): boolean {
  const others = set.filter((one) => !hasSame(first, one));
  return set.length === first.length && others.length === 1 && !set.some((one) => one.limit === limit);
}

function hasSame(set: readonly Obstacle[], { limit, aircraftTypeId }: Obstacle): boolean {
  return set.some((one) => one.limit === limit && one.aircraftTypeId === aircraftTypeId);
}

function either(names: readonly string[]): string {
  return names.length < 2 ? names.join() : `${names.slice(0, -1).join(", ")} or ${names.at(-1)!}`;
}

function namesOf(set: readonly Obstacle[]): string {
  const names = reasonsIn(set).map(({ limit }) => obstacleWords[limit]);
  return names.length < 2 ? names.join() : `${names.slice(0, -1).join(", ")} and ${names.at(-1)!} together`;
}

/** One after the other; what all of them begin with is said once. */
function joined(set: readonly Obstacle[]): string {
  const told = set.slice(0, mostTold).map(({ sentence }) => sentence);
  const more = set.length > mostTold ? `, and ${set.length - mostTold} more` : "";
  const start = `${told[0]!.split(", ")[0]!}, `;
  const isShared = told.length > 1 && told.every((sentence) => sentence.startsWith(start));
  return isShared
    ? `${told[0]!}, ${told
        .slice(1)
        .map((sentence) => sentence.slice(start.length))
        .join(", ")}${more}`
    : `${told.join("; ")}${more}`;
}
