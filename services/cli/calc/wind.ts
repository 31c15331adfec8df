import { windAtHeightKph } from "../../../shared/agronomy/windProfile.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";

const law =
  "wind x ln(67.8 z - 5.42) / ln(67.8 h - 5.42), h and z the heights in m " +
  "(FAO Irrigation and Drainage Paper 56, eq. 47, used for both heights; over short grass)";
const lowest = "heights under 0.5 m count as 0.5 m, which is our choice";

export interface WindOptions {
  readonly speed: number;
  readonly from: number;
  readonly to: number;
  readonly json?: boolean;
}

export async function windVerb({ speed, from, to, json }: WindOptions): Promise<number> {
  // The law is a mere factor, so the unit of the speed is as good as any.
  const speedAtTo = windAtHeightKph(speed, from, to);
  if (json) printJson({ speed, fromM: from, toM: to, speedAtTo, factor: windAtHeightKph(1, from, to), law, lowest });
  else {
    print(`${speed} at ${from} m is ${speedAtTo.toFixed(2)} at ${to} m, in the same unit`);
    for (const line of wrapped(`Law: ${law}; ${lowest}.`, 0)) print(line);
  }
  return exitCodes.good;
}
