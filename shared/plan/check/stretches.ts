import type { Activity } from "../plan.ts";
import type { Span } from "./spans.ts";

type Work = Extract<Activity, { kind: "work" }>;

/** What pauses leave of a work, in order of time; of pauses that overlap or lie outside, what they cover of it. */
export function stretchesOf({ startMin, endMin, pauses = [] }: Work): Span[] {
  const stretches: Span[] = [];
  let atMin = startMin;
  const inOrder = pauses.filter((one) => one.startMin < one.endMin).sort((a, b) => a.startMin - b.startMin);
  for (const pause of inOrder) {
    const toMin = Math.min(pause.startMin, endMin);
    if (atMin < toMin) stretches.push({ fromMin: atMin, toMin });
    atMin = Math.max(atMin, pause.endMin);
  }
  if (atMin < endMin || pauses.length === 0) stretches.push({ fromMin: atMin, toMin: endMin });
  return stretches;
}

/** Minutes in which there is work, starting up again among them. */
export function stretchMinutes(stretches: readonly Span[]): number {
  return stretches.reduce((sum, { fromMin, toMin }) => sum + toMin - fromMin, 0);
}
