import type { RuleName } from "../../../shared/plan/check/report.ts";
import type { Pause } from "../../../shared/plan/plan.ts";
import {
  type Draft,
  type DraftStop,
  localTime,
  type Mutation,
  moveBy,
  onStop,
  pick,
  pickInt,
  stepsAt,
  workedMinutes,
} from "./mutation.ts";

/** The work pauses halfway; it and what follows in the day end later. */
function insertPause(draft: Draft, { crewDay, work }: DraftStop): void {
  const startMin = Math.floor((work.startMin + work.endMin) / 2);
  const pause = { startMin, endMin: startMin + pickInt(draft, 30, 120) };
  const byMin = pause.endMin - pause.startMin + draft.operation.settings.planning.resumeMin;
  const after = crewDay.activities.slice(crewDay.activities.indexOf(work) + 1);
  for (const activity of after) moveBy(activity, byMin);
  work.endMin += byMin;
  work.pauses = [pause];
}

/** A change to the first pause of a stop picked at random; one that does not pause is made to. */
function onPause(
  rule: RuleName,
  name: string,
  change: (draft: Draft, stop: DraftStop, pause: Pause, pauses: Pause[]) => boolean,
): Mutation {
  return onStop(rule, name, (draft, stop) => {
    if (stop.work.endMin - stop.work.startMin < 4) return false;
    if (stop.work.pauses === undefined) insertPause(draft, stop);
    const pauses = stop.work.pauses!;
    return change(draft, stop, pauses[0]!, pauses);
  });
}

const lengthMin = ({ startMin, endMin }: Pause) => endMin - startMin;

function moveTo(pause: Pause, startMin: number): void {
  pause.endMin = startMin + lengthMin(pause);
  pause.startMin = startMin;
}

const places: readonly Mutation[] = [
  onPause("pauses", "from the first minute of the work", (_, { work }, pause) => {
    moveTo(pause, work.startMin);
    return true;
  }),
  onPause("pauses", "up to the last minute of the work", (_, { work }, pause) => {
    moveTo(pause, work.endMin - lengthMin(pause));
    return true;
  }),
  onPause("pauses", "before the work", (draft, { work }, pause) => {
    moveTo(pause, work.startMin - lengthMin(pause) - pickInt(draft, 0, 60));
    return true;
  }),
  onPause("pauses", "after the work", (draft, { work }, pause) => {
    moveTo(pause, work.endMin + pickInt(draft, 0, 60));
    return true;
  }),
  onPause("pauses", "two that overlap", (draft, _, pause, pauses) => {
    const startMin = pickInt(draft, pause.startMin + 1, pause.endMin - 1);
    pauses.splice(1, 0, { startMin, endMin: pause.endMin + 1 });
    return lengthMin(pause) > 1;
  }),
  onPause("pauses", "two with nothing worked between them", (_, __, pause, pauses) => {
    pauses.splice(1, 0, { startMin: pause.endMin, endMin: pause.endMin + 1 });
    return true;
  }),
  onPause("pauses", "one named twice", (_, __, pause, pauses) => {
    pauses.push({ ...pause });
    return true;
  }),
  onPause("pauses", "the later one named first", (_, { work }, pause, pauses) => {
    pauses.unshift({ startMin: pause.endMin + 1, endMin: pause.endMin + 2 });
    return pause.endMin + 2 < work.endMin;
  }),
  onPause("pauses", "of no minute", (_, __, pause) => {
    pause.endMin = pause.startMin;
    return true;
  }),
  onPause("pauses", "that ends before it begins", (_, __, pause) => {
    [pause.startMin, pause.endMin] = [pause.endMin, pause.startMin];
    return true;
  }),
];

const lengths: readonly Mutation[] = [
  onPause("pauseLength", "a minute longer than work may pause", ({ operation }, _, pause) => {
    operation.settings.planning.pauseMaxMin = lengthMin(pause) - 1;
    return lengthMin(pause) > 1;
  }),
  onPause("pauseLength", "where work never pauses", ({ operation }) => {
    operation.settings.planning.pauseMaxMin = 0;
    return true;
  }),
  onPause("pauseLength", "hours longer, and the work with it", (draft, { work }, pause) => {
    const byMin = draft.operation.settings.planning.pauseMaxMin + pickInt(draft, 0, 60);
    pause.endMin += byMin;
    work.endMin += byMin;
    return byMin > 0;
  }),
  onPause("stretchLength", "too short before the pause", (draft, { work }, pause) => {
    const { stretchMinMin } = draft.operation.settings.planning;
    moveTo(pause, work.startMin + pickInt(draft, 1, stretchMinMin - 1));
    return stretchMinMin > 1;
  }),
  onPause("stretchLength", "too short after the pause", (draft, { work }, pause, pauses) => {
    const { stretchMinMin } = draft.operation.settings.planning;
    moveTo(pause, work.endMin - pickInt(draft, 1, stretchMinMin - 1) - lengthMin(pause));
    return stretchMinMin > 1 && pauses.length === 1;
  }),
  onPause("stretchLength", "too short between two pauses", (draft, { work }, pause, pauses) => {
    const { stretchMinMin } = draft.operation.settings.planning;
    const startMin = pause.endMin + pickInt(draft, 1, stretchMinMin - 1);
    pauses.splice(1, 0, { startMin, endMin: startMin + 1 });
    return stretchMinMin > 1 && startMin + 1 < work.endMin;
  }),
  onPause("stretchLength", "a minute shorter than a stretch must be", ({ operation }, { work }, _, pauses) => {
    const ends = [...pauses.map((one) => one.startMin), work.endMin];
    const starts = [work.startMin, ...pauses.map((one) => one.endMin)];
    operation.settings.planning.stretchMinMin = Math.min(...ends.map((end, index) => end - starts[index]!)) + 1;
    return true;
  }),
];

/** Rules that count only what is worked, in stops that pause. */
const others: readonly Mutation[] = [
  onPause("workMinutes", "starting up again in time that the flights need", (draft, { work, types }, _, pauses) => {
    const { sprayMin, turnMin, ferryMin, groundMin } = work.detail;
    const neededMin = (sprayMin + turnMin + ferryMin + groundMin) / types.length;
    const spareMin = workedMinutes(work).length - neededMin;
    draft.operation.settings.planning.resumeMin = Math.floor(spareMin / pauses.length) + pickInt(draft, 1, 5);
    return true;
  }),
  onPause("workMinutes", "flown in the pause", (_, { crewDay, work }, pause) => {
    const { sprayMin, turnMin, ferryMin, groundMin } = work.detail;
    const neededMin = (sprayMin + turnMin + ferryMin + groundMin) / crewDay.outfit.aircraftIds.length;
    pause.endMin = work.endMin - 1;
    return workedMinutes(work).length < neededMin;
  }),
  onPause("workDetail", "a work rate over the pause as well", (_, { block, work }, pause) => {
    const minutes = work.endMin - work.startMin;
    work.detail.rateHaPerHour = (block.areaHa * 60) / minutes;
    return lengthMin(pause) > 0.1 * minutes;
  }),
  onPause("rainfast", "rain begins in the pause", (draft, stop, pause) => {
    pick(draft, stop.products)!.rainfastHours = pickInt(draft, 1, 6);
    const wet = stepsAt(draft, pickInt(draft, pause.startMin, Math.min(pause.endMin, pause.startMin + 60) - 1));
    for (const step of wet) step.rainMm = 5;
    return wet.length > 0;
  }),
  onPause("rei", "workers come in the pause", (draft, stop, pause) => {
    pick(draft, stop.products)!.reiHours = pickInt(draft, 4, 48);
    const [from, to] = [pause.startMin, pause.endMin].map((min) => localTime(draft, min));
    stop.field.closures.push({ from: from!, to: to!, reason: "pruning", people: true });
    return true;
  }),
  onPause("score", "the aircraft run through the pause", ({ plan }, { types }, pause) => {
    const centsPerHour = types.reduce((sum, type) => sum + type.runningCentsPerHour, 0);
    const pauseCents = (lengthMin(pause) / 60) * centsPerHour;
    plan.score.runningCents += pauseCents;
    return pauseCents > 2;
  }),
];

export const pauseMutations: readonly Mutation[] = [...places, ...lengths, ...others];
