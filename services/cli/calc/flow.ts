import { flowPerMin, rateForFlowPerHa, speedForFlowMps, workRateHaPerHour } from "../../../shared/fieldwork/flow.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { kphFromMps, mpsFromKph } from "../../../shared/units/units.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";
import { figureWords } from "./words.ts";

const flowLaw = "flow per minute = rate per hectare x km/h x m / 600 (IRRI Rice Knowledge Bank, Calibration)";
const workRateLaw = "ha/h = km/h x m x field efficiency / 10 (effective field capacity, ASABE EP496)";

export interface FlowOptions {
  readonly swath: number;
  readonly rate?: number;
  readonly speed?: number;
  readonly flow?: number;
  readonly efficiency?: number;
  readonly granules?: boolean;
  readonly json?: boolean;
}

export async function flowVerb(options: FlowOptions): Promise<number> {
  const { swath, efficiency = 1, granules, json } = options;
  const { ratePerHa, speedMps, flow, found } = solved(options);
  const workRate = workRateHaPerHour(speedMps, swath, efficiency);
  const unit = granules ? "kg" : "L";
  if (json) {
    printJson({
      unit,
      ratePerHa,
      speedKph: kphFromMps(speedMps),
      speedMps,
      swathM: swath,
      flowPerMin: flow,
      found,
      efficiencyFrac: efficiency,
      workRateHaPerHour: workRate,
      flowLaw,
      workRateLaw,
    });
    return exitCodes.good;
  }
  const efficiencyWords =
    options.efficiency === undefined
      ? "while it works without a break; --efficiency takes off turns, ferry and loading"
      : `at a field efficiency of ${efficiency}`;
  const rows = [
    ["rate", `${figureWords(ratePerHa)} ${unit}/ha`, ""],
    ["speed", `${figureWords(kphFromMps(speedMps))} km/h`, `${figureWords(speedMps)} m/s`],
    ["swath", `${swath} m`, ""],
    ["flow", `${figureWords(flow)} ${unit}/min`, ""],
    ["work rate", `${figureWords(workRate)} ha/h`, efficiencyWords],
  ].map(([name, value, remarks]) => [name!, value!, name === found ? "worked out from the others" : remarks!]);
  for (const line of textTable(rows, { indent: 0, right: [1] })) print(line.trimEnd());
  for (const law of [flowLaw, workRateLaw]) for (const line of wrapped(`Law: ${law}.`, 0)) print(line);
  return exitCodes.good;
}

type Figure = "rate" | "speed" | "flow";

/** The one figure of three that is not given. */
function solved({ rate, speed, flow, swath }: FlowOptions): {
  readonly ratePerHa: number;
  readonly speedMps: number;
  readonly flow: number;
  readonly found: Figure;
} {
  const speedMps = speed === undefined ? undefined : mpsFromKph(speed);
  if (rate !== undefined && speedMps !== undefined && flow === undefined) {
    return { ratePerHa: rate, speedMps, flow: flowPerMin(rate, speedMps, swath), found: "flow" };
  }
  if (rate !== undefined && speedMps === undefined && flow !== undefined) {
    return { ratePerHa: rate, speedMps: speedForFlowMps(flow, rate, swath), flow, found: "speed" };
  }
  if (rate === undefined && speedMps !== undefined && flow !== undefined) {
    return { ratePerHa: rateForFlowPerHa(flow, speedMps, swath), speedMps, flow, found: "rate" };
  }
  const given = Object.entries({ "--rate": rate, "--speed": speed, "--flow": flow })
    .filter(([, value]) => value !== undefined)
    .map(([name]) => name);
  throw new BadInput([
    `--rate, --speed, --flow: ${given.length === 0 ? "none" : given.join(", ")} given; expected two of them, the third is worked out`,
  ]);
}
