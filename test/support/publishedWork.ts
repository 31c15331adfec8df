import { meanValuesOf } from "../../shared/fieldwork/closedCycle.ts";
import {
  flowPerMin,
  gearOf,
  rateForFlowPerHa,
  speedForFlowMps,
  workRateHaPerHour,
} from "../../shared/fieldwork/flow.ts";
import { productInLoad } from "../../shared/fieldwork/loads.ts";
import { bestSwathPlan } from "../../shared/fieldwork/swathPlan.ts";
import { type WorkInput, workTime } from "../../shared/fieldwork/workTime.ts";
import { acresFromHa, kphFromMps, mpsFromKph } from "../../shared/units/units.ts";
import { baltinExample, baltinSPerHa } from "../shared/fieldwork/baltin.ts";
import { multirotor, orchard, plainRules, sprayOutfit, spreadOutfit } from "../shared/fieldwork/outfits.ts";
import { rectangle } from "../shared/geo/shapes.ts";
import type { PublishedValue } from "./publishedValues.ts";

const irri = "IRRI Rice Knowledge Bank, Calibration";
const sprayerManual = "sprayer manual, worked example";
const lazowska = "Lazowska et al. 1984, chapter 6 (inputs READ, outputs COMPUTED)";
const machineRepair = "machine-repair model M/M/c//N (COMPUTED)";
const noSource = "common practice, no source";
const exactFormula = 1e-9;
/** Given to four decimals. */
const fourDecimals = 0.00005;

const flow: PublishedValue[] = [
  {
    part: "Work",
    name: "rate of 2 L/min at 3 km/h over 4 m",
    expected: 100,
    tolerance: exactFormula,
    got: () => rateForFlowPerHa(2, mpsFromKph(3), 4),
    unit: "L/ha",
    source: irri,
  },
  {
    part: "Work",
    name: "flow of 100 L/ha at 8 km/h over 12 m",
    expected: 16,
    tolerance: exactFormula,
    got: () => flowPerMin(100, mpsFromKph(8), 12),
    unit: "L/min",
    source: sprayerManual,
  },
  {
    part: "Work",
    name: "speed at which 16 L/min put out 100 L/ha over 12 m",
    expected: 8,
    tolerance: exactFormula,
    got: () => kphFromMps(speedForFlowMps(16, 100, 12)),
    unit: "km/h",
    source: sprayerManual,
  },
  {
    part: "Work",
    name: "work rate at 5 km/h over 2.5 m, field efficiency 0.85",
    expected: 1.06,
    tolerance: 0.005,
    got: () => workRateHaPerHour(mpsFromKph(5), 2.5, 0.85),
    unit: "ha/h",
    source: "effective field capacity, ASABE EP496 (MEMORY)",
  },
  {
    part: "Work",
    name: "product in a tank of 800 L, 200 mL/ha in 100 L/ha",
    expected: 1.6,
    tolerance: exactFormula,
    got: () => productInLoad(800, 0.2, 100),
    unit: "L",
    source: "extension mixing example",
  },
];

const cycles: PublishedValue[] = [
  ...(
    [
      [1, 0.0525],
      [2, 0.1031],
      [3, 0.1515],
    ] as const
  ).map(
    ([customers, expected]): PublishedValue => ({
      part: "Work",
      name: `throughput of ${customers}, demands 0.605, 2.1, 1.35, delay 15`,
      expected,
      tolerance: fourDecimals,
      got: () => {
        const stations = [0.605, 2.1, 1.35].map((serviceS) => ({ serviceS, servers: 1 }));
        return meanValuesOf({ aircraft: customers, stations, flightS: 15 }).perS;
      },
      unit: "per s",
      source: lazowska,
    }),
  ),
  {
    part: "Work",
    name: "machines down of 3, 2 repairers, up 10 h, repair 8 h",
    expected: 1.4034,
    tolerance: fourDecimals,
    // Whatever is up fails once in 10 h, so throughput x 10 h are up.
    got: () => 3 - 10 * meanValuesOf({ aircraft: 3, stations: [{ serviceS: 8, servers: 2 }], flightS: 10 }).perS,
    unit: "machines",
    source: machineRepair,
  },
  {
    part: "Work",
    name: "sorties of 6 aircraft, 2 pads, fly 8 min, service 3 min",
    expected: 0.4945,
    tolerance: fourDecimals,
    got: () => sixAtTwoPads().perS * 60,
    unit: "per min",
    source: machineRepair,
  },
  {
    part: "Work",
    name: "aircraft waiting of 6, 2 pads, fly 8 min, service 3 min",
    expected: 0.561,
    tolerance: 0.0005,
    got: () => sixAtTwoPads().stations[0]!.waiting,
    unit: "aircraft",
    source: machineRepair,
  },
];

function sixAtTwoPads() {
  return meanValuesOf({ aircraft: 6, stations: [{ serviceS: 3 * 60, servers: 2 }], flightS: 8 * 60 });
}

const field = rectangle(0, 0, 400, 200);
const leastWidth = "Huang 2001: fewest turns along the least width (COMPUTED)";
const ground: PublishedValue[] = [
  {
    part: "Work",
    name: "passes of 7 m over 400 x 200 m, lengthwise",
    expected: 29,
    tolerance: 0,
    got: () => bestSwathPlan(field, { swathM: 7, turnCostM: 60, headlandM: 0 }).passes,
    unit: "passes",
    source: leastWidth,
  },
  {
    part: "Work",
    name: "the same, crosswise",
    expected: 58,
    tolerance: 0,
    got: () => bestSwathPlan(field, { swathM: 7, turnCostM: 60, headlandM: 0, headingDeg: 0 }).passes,
    unit: "passes",
    source: leastWidth,
  },
  {
    part: "Work",
    name: "100 mph over 50 ft",
    expected: 10.1,
    tolerance: 0.005,
    got: () => acresFromHa(workRateHaPerHour(mpsFromKph(160.9344), 15.24, 1)) / 60,
    unit: "ac/min",
    source: "US Army TM 5-3740-218-13P (COMPUTED)",
  },
  {
    part: "Work",
    name: "Baltin's formula: 20 L/ha, 500 L, strip 5 km away",
    expected: 41,
    tolerance: 0.05,
    got: () => baltinSPerHa(baltinExample),
    unit: "s/ha",
    source: "Baltin 1959 (MEMORY, COMPUTED)",
  },
];

/** Rules of thumb of the trade, with pads, turns, reload and battery times of our own (`outfits.ts`); nothing is tuned to meet them. */
const thumbs: PublishedValue[] = [
  {
    part: "Work",
    name: "40 L tank at 15 L/ha: a load covers",
    expected: 2.67,
    tolerance: 0.005,
    got: () => gearOf(multirotor, "liquid", 1)!.fullLoad / 15,
    unit: "ha",
    source: noSource,
  },
  {
    part: "Work",
    name: "11 m, 10 m/s, 40 L, 12 L/min, 15 L/ha on 800 x 400 m",
    expected: 20,
    tolerance: 5,
    got: () => workOf({ ...sprayOutfit, area: rectangle(0, 0, 800, 400), pads: [[400, -5]] }).detail.rateHaPerHour,
    unit: "ha/h",
    source: noSource,
  },
  {
    part: "Work",
    name: "the same in an orchard at 150 L/ha: 20 ha",
    expected: 7,
    tolerance: 1.5,
    got: () => workOf(orchard).minutes / 60,
    unit: "h",
    source: noSource,
  },
  {
    part: "Work",
    name: "spreading in loads of 50 kg on 300 x 150 m",
    expected: 1.5,
    tolerance: 0.5,
    got: () => {
      const { detail, minutes } = workOf({ ...spreadOutfit, area: rectangle(0, 0, 300, 150), pads: [[150, -5]] });
      return (60 * detail.amount) / 1000 / minutes;
    },
    unit: "t/h",
    source: noSource,
  },
];

function workOf(work: Omit<WorkInput, "rules">) {
  const outcome = workTime({ ...work, rules: plainRules });
  if (!outcome.ok) throw new Error(`refused: ${outcome.limit}`);
  return outcome;
}

export const publishedWork: readonly PublishedValue[] = [...flow, ...cycles, ...ground, ...thumbs];
