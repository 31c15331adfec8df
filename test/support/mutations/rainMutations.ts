import {
  coverOf,
  cutSteps,
  type Draft,
  lengthenSteps,
  type Mutation,
  minuteOf,
  onStop,
  pick,
  pickInt,
  stepsAt,
} from "./mutation.ts";
import { onWeather } from "./weatherMutations.ts";

/** Rain by its amount alone. */
function rainFrom(draft: Draft, rainMm: number): void {
  draft.operation.settings.limits.rainMm = rainMm;
  draft.operation.settings.limits.rainProbabilityPct = 100;
}

export const rainMutations: readonly Mutation[] = [
  onWeather("rain", "it rains", { rainMm: 0.1 }, (_, draft) => {
    draft.operation.settings.limits.rainMm = 0.1;
  }),
  onWeather("rain", "rain is likely", { rainProbabilityPct: 50 }, (_, draft) => {
    draft.operation.settings.limits.rainProbabilityPct = 50;
  }),
  // 0.025 mm in a quarter of an hour are 0.1 mm in an hour.
  onStop("rain", "a quarter of an hour's rain, enough if it went on", (draft, stop) => {
    rainFrom(draft, 0.1);
    const steps = cutSteps(draft, minuteOf(draft, stop), 15);
    for (const step of steps) step.rainMm = 0.025;
    return steps.length > 0;
  }),
  onStop("rain", "rain spread over three hours", (draft, stop) => {
    rainFrom(draft, 0.1);
    const steps = lengthenSteps(draft, minuteOf(draft, stop), 180);
    for (const step of steps) step.rainMm = 0.1;
    return steps.length > 0;
  }),
  onStop("rainfast", "it rains before the spray has dried", (draft, stop) => {
    const hours = pickInt(draft, 1, 5);
    pick(draft, stop.products)!.rainfastHours = hours;
    const wet = stepsAt(draft, stop.work.endMin + pickInt(draft, 0, hours * 60 - 1));
    for (const step of wet) step.rainMm = 3;
    return wet.length > 0;
  }),
  onStop("rainfast", "a shower of ten minutes before the spray has dried", (draft, stop) => {
    rainFrom(draft, 0.1);
    const hours = pickInt(draft, 1, 5);
    pick(draft, stop.products)!.rainfastHours = hours;
    const wet = cutSteps(draft, stop.work.endMin + pickInt(draft, 0, hours * 60 - 1), 10);
    for (const step of wet) step.rainMm = 0.02;
    return wet.length > 0;
  }),
  onStop("wet", "it has rained too much before", (draft, { work, order }) => {
    const hours = pickInt(draft, 1, 24);
    Object.assign(order, { waitAfterRainMm: 4, waitAfterRainHours: hours });
    const steps = stepsAt(draft, work.startMin - pickInt(draft, 0, hours * 60));
    for (const step of steps) step.rainMm = 4;
    return steps.length > 0;
  }),
  onStop("wet", "a little rain again and again", (draft, { work, order }) => {
    Object.assign(order, { waitAfterRainMm: 1, waitAfterRainHours: 3 });
    const times = [0, 60, 120, 180].map((backMin) => work.startMin - backMin);
    const steps = new Set(times.flatMap((min) => stepsAt(draft, min)));
    for (const step of steps) step.rainMm = Math.min(0.25, step.stepMin / 60 / 4);
    return times.every((min) => stepsAt(draft, min).length > 0) && [...steps].every((step) => step.stepMin <= 60);
  }),
  // More rain than ever falls: it is the gap that stops these.
  onStop("wet", "an hour before of which nobody knows whether it rained", (draft, { work, order }) => {
    const hours = pickInt(draft, 1, 12);
    Object.assign(order, { waitAfterRainMm: 500, waitAfterRainHours: hours });
    const gone = stepsAt(draft, work.startMin - pickInt(draft, 1, hours * 60));
    draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
    return gone.length > 0;
  }),
  onStop("wet", "weather that begins too late to tell of the rain before", (draft, { work, order }) => {
    const hours = pickInt(draft, 1, 12);
    Object.assign(order, { waitAfterRainMm: 500, waitAfterRainHours: hours });
    const knownFromMin = work.startMin - hours * 60 + 1;
    const { weather } = draft.operation;
    draft.operation.weather = weather.filter((step) => coverOf(draft, step).fromMin >= knownFromMin);
    return draft.operation.weather.length < weather.length;
  }),
];
