import type { Settings } from "../model/settings.ts";

/** What a change against what crews know costs: as the operation says, or so much that the plan stays near to it. */
export const changeCosts = ["usual", "high"] as const;
export type ChangeCost = (typeof changeCosts)[number];

/** Our choice, measured by `bench replan --change 5`: of stops that could stay where they are 90 % do, at 1.5 % more cost than with the usual one. */
const highTimes = 5;

export function withChangeCost(settings: Settings, changeCost: ChangeCost): Settings {
  return changeCost === "usual" ? settings : timesChangeCost(settings, highTimes);
}

export function timesChangeCost(settings: Settings, times: number): Settings {
  const { planning } = settings;
  return {
    ...settings,
    planning: {
      ...planning,
      changeCrewDayCents: times * planning.changeCrewDayCents,
      changeDroppedCents: times * planning.changeDroppedCents,
      changeStartCents: times * planning.changeStartCents,
    },
  };
}
