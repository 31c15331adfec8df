import type { Activity, Conflict, CrewDay, Outfit, Plan } from "../../shared/plan/plan.ts";
import { scorePlan } from "../../shared/plan/score.ts";
import { listActivities } from "./dayRules.ts";
import { kindFor, kindsOf } from "./kinds.ts";
import { kitOf } from "./kits.ts";
import type { Kit, Problem } from "./problem.ts";
import type { State } from "./routes.ts";
import { brokenLocks } from "./whyLocksBreak.ts";

/** The plan in words again: crew-days by date and crew. */
export function toPlan(
  problem: Problem,
  state: State,
  conflicts: readonly Conflict[],
  how: { readonly seed: number; readonly iterations: number },
): Plan {
  const { operation, calendar } = problem;
  const blocks = problem.blocks.map(({ block }) => block);
  const crewDays = problem.slots
    .map((_, slot) => slot)
    .filter((slot) => state.count[slot]! > 0)
    .sort((a, b) => problem.slots[a]!.day - problem.slots[b]!.day || a - b)
    .map((slot) => toCrewDay(problem, state, slot));
  const broken = brokenLocks(problem, state);
  const published = problem.published === null ? {} : { published: [...problem.published.stops] };
  return {
    formatVersion: 1,
    operationName: operation.settings.name,
    timeZone: operation.settings.timeZone,
    firstDay: calendar.dates[0]!,
    days: calendar.dates.length,
    seed: how.seed,
    iterations: how.iterations,
    blocks,
    crewDays,
    conflicts: [...conflicts],
    ...published,
    ...(broken.length > 0 && { brokenLocks: broken }),
    score: scorePlan(operation, { blocks, crewDays, ...published }),
  };
}

function toCrewDay(problem: Problem, state: State, slot: number): CrewDay {
  const { crew, day } = problem.slots[slot]!;
  const kit = kitOf(state, slot)!;
  return {
    crewId: problem.crews[crew]!.id,
    date: problem.calendar.dates[day]!,
    outfit: toOutfit(problem, kit),
    activities: listActivities(problem, state, slot).map((activity): Activity => {
      if (activity.kind !== "work") return activity;
      const { block, startMin, endMin, ready, pauses } = activity;
      const kind = kindFor(problem, kit, block);
      const outcome = problem.work.outcome(block, kind.signature, ready);
      if (!outcome.ok)
        throw new Error(`block ${problem.blocks[block]!.block.id} was planned with an outfit that cannot do it`);
      const field = problem.operation.fields.features[problem.blocks[block]!.field]!.properties;
      return {
        kind: "work",
        startMin,
        endMin,
        blockId: problem.blocks[block]!.block.id,
        padId: field.pads[outcome.padIndex]!.id,
        detail: outcome.detail,
        ...(pauses.length === 0 ? {} : { pauses: toPauses(pauses) }),
        ...(kit.also === undefined ? {} : { aircraftIds: aircraftOf(problem, kit, kind.option.type) }),
      };
    }),
  };
}

function toPauses(times: readonly number[]) {
  return times.flatMap((startMin, at) => (at % 2 === 0 ? [{ startMin, endMin: times[at + 1]! }] : []));
}

function aircraftOf({ operation, equipment }: Problem, kit: Kit, type: number) {
  return kit.aircraft
    .filter((aircraft) => equipment.aircraftType[aircraft] === type)
    .map((aircraft) => operation.fleet.aircraft[aircraft]!.id);
}

function toOutfit(problem: Problem, kit: Kit): Outfit {
  const { fleet } = problem.operation;
  return {
    aircraftIds: kit.aircraft.map((aircraft) => fleet.aircraft[aircraft]!.id),
    batterySets: kindsOf(kit).flatMap(({ option, sets, signature }) => {
      const bays = kit.also === undefined ? {} : { bays: problem.signatures.at(signature).charge?.bays };
      return sets > 0 ? [{ aircraftTypeId: problem.types[option.type]!.id, sets, ...bays }] : [];
    }),
    chargerIds: kit.chargers.map((charger) => fleet.chargers[charger]!.id),
    tenderId: fleet.tenders[kit.tender]!.id,
  };
}
