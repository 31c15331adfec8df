import type { Agronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement, MinuteLimit } from "../../../shared/agronomy/limits.ts";
import { minuteLimits } from "../../../shared/agronomy/limits.ts";
import type { ConflictKind, Obstacle, ObstacleName } from "../../../shared/plan/plan.ts";
import { mostBlockingSets } from "../../../shared/plan/plan.ts";
import type { Problem } from "../problem.ts";
import { type Alone, type Atom, createAlone } from "./alone.ts";
import { smallestBlockingSets } from "./blockingSets.ts";
import type { NeverLimits } from "./neverLimits.ts";
import { plainObstacle } from "./plainObstacles.ts";
import { becauseOf, kindOf, type Reason } from "./reason.ts";
import { sentenceOf } from "./sentences.ts";
import { shortWindows } from "./shortWindows.ts";
import { createTimeObstacles, type TimeObstacles, whenWords } from "./timeObstacles.ts";

/** Our choice: so often it is asked whether a block fits before it is told that there may be more sets. */
const mostAsked = 1500;

/** What keeps a block out of an empty week; null where nothing does, as far as this can tell. */
export function explainAlone(problem: Problem, agronomy: Agronomy, never: NeverLimits, block: number): Reason | null {
  const { order: orderIndex, ground } = problem.blocks[block]!;
  const forbidden = forbiddenBy(agronomy.orderLimits(problem.orders[orderIndex]!.order));
  const alone = createAlone(problem, agronomy, block, never(block));
  const found = smallestBlockingSets(alone.atoms.length, alone.fits, mostAsked);
  const blocking = (found?.sets ?? []).map((set) => set.map((atom) => alone.atoms[atom]!));
  if (forbidden.length + blocking.length === 0) return null;

  const types = openTypes(problem, alone);
  const times = createTimeObstacles(problem, agronomy, ground, types);
  const told = blocking.slice(0, mostBlockingSets).map((set) => obstaclesOf(problem, alone, times, block, set));
  // A set of one comes before larger ones anyway, and labels are told first.
  const because = becauseOf(
    [...forbidden.map((one) => [one]), ...told],
    found === null || !found.isAll || blocking.length > mostBlockingSets,
  );
  const hasWindow = types.some((type) => isOpen(problem, ground, type));
  const kind = kindOf(because.sets[0]!, hasWindow);
  const short = kind === "windowTooShort" ? shortWindows(problem, block) : null;
  const sentence = sentenceOf(kind, because, times.datesWords(), short?.head);
  return {
    kind,
    sentence: `${sentence}${withoutWords(problem, times, kind, because.sets)}`,
    because,
    evidence: { ...evidenceOf(problem, alone, kind, because.sets[0]![0]!, forbidden, times), ...short?.evidence },
  };
}

/** What the label and the season say of the order at every minute. Ground that buffers take is told with the places that they are kept from. */
export function forbiddenBy(judgements: readonly Judgement[]): Obstacle[] {
  return judgements
    .filter(({ limit }) => limit !== "buffers")
    .map(({ limit, sentence, ...data }) => ({ limit, sentence, data }));
}

function isMinuteLimit(limit: ObstacleName): limit is MinuteLimit {
  return (minuteLimits as readonly string[]).includes(limit);
}

function obstaclesOf(
  problem: Problem,
  alone: Alone,
  times: TimeObstacles,
  block: number,
  set: readonly Atom[],
): Obstacle[] {
  const limits = set.map(({ limit }) => limit).filter(isMinuteLimit);
  return set.map((atom) =>
    isMinuteLimit(atom.limit) ? times.obstacleOf(atom.limit, limits) : plainObstacle(problem, alone, block, atom),
  );
}

/** Types that nothing but hours stands against, or else all. */
function openTypes(problem: Problem, { atoms, types }: Alone): readonly number[] {
  const able = types.filter(
    (type) => !atoms.some((atom) => atom.type === type && (atom.judgement !== undefined || atom.limit === "aircraft")),
  );
  if (able.length > 0) return able;
  return types.length > 0 ? types : problem.types.map((_, type) => type);
}

function isOpen({ windows, types }: Problem, ground: number, type: number): boolean {
  return [0, 1].some((night) => (windows[(ground * types.length + type) * 2 + night]?.length ?? 0) > 0);
}

/** Limits that a person could move by a date or a word with the grower. */
const datedKinds: readonly ConflictKind[] = ["harvestTooSoon", "entryTooSoon", "fieldClosed", "retreatment"];
const datedLimits: readonly ObstacleName[] = ["phi", "rei", "entry", "closed", "retreatment"];

function withoutWords(
  { calendar }: Problem,
  times: TimeObstacles,
  kind: ConflictKind,
  sets: readonly (readonly Obstacle[])[],
): string {
  if (!datedKinds.includes(kind)) return "";
  const limits = sets[0]!.map(({ limit }) => limit).filter((limit) => datedLimits.includes(limit));
  const main = limits.slice(0, 1).filter(isMinuteLimit);
  const min = times.openWithout(main);
  return min === undefined
    ? ""
    : `; without that it could be done from ${whenWords(`${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`)}`;
}

function evidenceOf(
  problem: Problem,
  { atoms, types }: Alone,
  kind: ConflictKind,
  main: Obstacle,
  forbidden: readonly Obstacle[],
  times: TimeObstacles,
): Record<string, unknown> {
  switch (kind) {
    case "labelForbids":
    case "seasonMaximum":
      return { judgements: forbidden.map(({ data, ...told }) => ({ ...told, ...data })) };
    case "noCapableAircraft": {
      const against = types.map((type) => ({
        aircraftTypeId: problem.types[type]!.id,
        name: problem.types[type]!.name,
        obstacles: atoms
          .filter((atom) => atom.type === type && atom.judgement !== undefined)
          .map(({ limit, judgement }) => ({ limit, ...judgement })),
      }));
      const closest = against.reduce((best, next) => (next.obstacles.length < best.obstacles.length ? next : best));
      return { closest: closest.aircraftTypeId, types: against };
    }
    case "noQualifiedCrew":
    case "equipmentShort":
      return { ...main.data };
    case "notEnoughHours":
      return { ...main.data, fitsAlone: false };
    default:
      return times.lost();
  }
}
