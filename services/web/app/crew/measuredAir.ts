import { judgeMeasured } from "../../../../shared/done/measured.ts";
import type { AirMeasured } from "../../../../shared/done/workReport.ts";
import type { SiteLimits } from "../../../../shared/plan/siteLimits.ts";
import { crewWords as words } from "../strings/crew.ts";
import type { UnitSystem } from "../units/units.ts";
import { limitWords, measuredWords, setByWords } from "./siteLimitWords.ts";

export interface AirVerdict {
  /** What of the measured is beyond a limit, in sentences. */
  readonly beyond: readonly string[];
  /** How many limits speak of what was measured. */
  readonly judged: number;
}

/** What was measured beside the limits of the stop, by the same rules as the record of the application. */
export function judgeAir(air: AirMeasured, site: SiteLimits, altitudeM: number, system: UnitSystem): AirVerdict {
  const { limits } = judgeMeasured(air, "", site, altitudeM);
  const beyond = limits
    .filter(({ holds }) => !holds)
    .flatMap(({ bound, measure, measured }) => {
      const limit = site.limits.find((one) => one.measure === measure && one.bound === bound);
      if (limit === undefined) return [];
      const asked = words[bound](limitWords(limit, system));
      const is = measuredWords(limit.measure, limit.unit, measured, system);
      return [words.beyond(words.measure[limit.measure], is, asked, setByWords(limit.setBy))];
    });
  return { beyond, judged: limits.length };
}
