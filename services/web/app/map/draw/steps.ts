/** What has been drawn, step by step, to be taken back and done again. */
export interface Steps<State> {
  readonly past: readonly State[];
  readonly present: State;
  readonly future: readonly State[];
  /** Of the last step: another with the same name goes on with it, as typing in one box does. */
  readonly name: string | null;
}

const stepsKept = 200;

export const beginSteps = <State>(present: State): Steps<State> => ({ past: [], present, future: [], name: null });

export function step<State>(steps: Steps<State>, present: State, name: string | null = null): Steps<State> {
  if (name !== null && name === steps.name) return { ...steps, present, future: [] };
  return { past: [...steps.past, steps.present].slice(-stepsKept), present, future: [], name };
}

export function back<State>({ future, past, present, ...steps }: Steps<State>): Steps<State> {
  const before = past.at(-1);
  if (before === undefined) return { ...steps, past, present, future };
  return { past: past.slice(0, -1), present: before, future: [present, ...future], name: null };
}

export function forth<State>({ future, past, present, ...steps }: Steps<State>): Steps<State> {
  const [after, ...later] = future;
  if (after === undefined) return { ...steps, past, present, future };
  return { past: [...past, present], present: after, future: later, name: null };
}
