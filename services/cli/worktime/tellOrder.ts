import { bottleneckWords } from "../../../shared/fieldwork/bottleneckWords.ts";
import {
  compareWithBrochure,
  type MinutePart,
  minuteParts,
  type Reason,
  reasonsOf,
  reasonWords,
} from "../../../shared/fieldwork/brochure.ts";
import { gainsOf } from "../../../shared/fieldwork/gains.ts";
import { swathOnMapM } from "../../../shared/fieldwork/ground.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { counted } from "../calc/words.ts";
import { exitCodes, print, printJson } from "../output.ts";
import type { Answer, Done, OrderWork, PartJob } from "./orderWork.ts";
import { outfitFacts, outfitWords } from "./outfit.ts";
import { refusalWords } from "./refusalWords.ts";

const partWords = { whole: "", near: "the part near to a place downwind", rest: "the rest of the field" } as const;
const oneEach = {
  turn: ["turn", "turns"],
  lap: ["lap of the headland", "laps of the headland"],
  load: ["load", "loads"],
  change: ["battery change", "battery changes"],
} as const;

/** How long one order takes the outfit `main`, and every other that could be sent. */
export function tellOrder(work: OrderWork, main: Answer, others: readonly Answer[], json: boolean): number {
  const { order, compiled, treated, limits } = work;
  const rateUnit = compiled.liquid ? "L" : "kg";
  if (json) {
    printJson({
      orderId: order.id,
      fieldId: order.fieldId,
      areaHa: treated.areaHa,
      fieldHa: treated.fieldHa,
      ratePerHa: compiled.ratePerHa,
      rateUnit: `${rateUnit}/ha`,
      limits,
      outfit: { ...outfitFacts(main.outfit), outcome: outcomeFacts(work, main, true) },
      others: others.map((one) => ({ ...outfitFacts(one.outfit), outcome: outcomeFacts(work, one, false) })),
    });
  } else {
    const { areaHa, fieldHa } = treated;
    const ofField = areaHa < fieldHa ? `${areaHa.toFixed(2)} of ${fieldHa.toFixed(2)} ha` : `${areaHa.toFixed(2)} ha`;
    print(`${order.id} on ${order.fieldId}: ${ofField} at ${compiled.ratePerHa} ${rateUnit}/ha`);
    for (const { sentence } of limits) print(`not allowed: ${sentence}`);
    print(outfitWords(main.outfit));
    for (const line of main.ok ? doneLines(work, main, rateUnit) : wrapped(`cannot: ${refusalWords(main)}`, 2)) {
      print(line);
    }
    for (const line of ["", ...othersLines(work, others), ""]) print(line);
    for (const line of wrapped(`${notCounted} ${caution}`, 0)) print(line);
  }
  return main.ok && limits.length === 0 ? exitCodes.good : exitCodes.answerIsNo;
}

function doneLines(work: OrderWork, { jobs, minutes }: Done, unit: string): string[] {
  if (jobs.length === 1) return jobLines(work, jobs[0]!, unit);
  const rate = (60 * work.treated.areaHa) / minutes;
  return [
    `  ${minutes} min for both parts, ${rate.toFixed(1)} ha/h; each has windows of its own`,
    ...jobs.flatMap((job) => [
      `${partWords[job.part]}, ${job.ground.areaHa.toFixed(2)} ha`,
      ...jobLines(work, job, unit),
    ]),
  ];
}

function jobLines({ padIds }: OrderWork, job: PartJob, unit: string): string[] {
  const { ground, slopePct, outfit, work } = job;
  const { detail, minutes, use, swathPlan } = work;
  const { swathM } = ground.motion;
  const onMapM = swathOnMapM(swathM, slopePct).toFixed(1);
  const onMap = onMapM === swathM.toFixed(1) ? "" : ` (${onMapM} m on the map: ${slopePct} % slope)`;
  const lapCount = new Set(swathPlan.legs.filter(({ pass }) => pass < 0).map(({ pass }) => pass)).size;
  const laps = lapCount > 0 ? `, ${counted(lapCount, oneEach.lap)} among them` : "";
  const hopKm = (swathPlan.hopM / 1000).toFixed(1);
  const hops = hopKm === "0.0" ? "" : `, ${hopKm} km of hops`;
  const sets = outfit.type.power.source === "battery" ? `, ${counted(detail.batteryChanges, oneEach.change)}` : "";
  const size = detail.loadSize.toFixed(1);
  const brochure = compareWithBrochure(job);
  const inUse = [
    ["aircraft", use.aircraftFrac],
    ["loading", use.loadingFrac],
    ...(outfit.method === "liquid" ? [["mixing", use.mixingFrac] as const] : []),
    ...(use.baysFrac === undefined ? [] : [["bays", use.baysFrac] as const]),
  ] as const;
  const rows = [
    [
      "time",
      `${minutes} min, ${detail.rateHaPerHour.toFixed(1)} ha/h; a brochure says ${brochure.brochureMin.toFixed(0)} min`,
    ],
    ["bottleneck", bottleneckWords(outfit, work, gainsOf(ground, outfit, minutes))],
    [
      "passes",
      `${detail.passes}${laps}, ${detail.passKm.toFixed(1)} km at ${detail.speedMps.toFixed(1)} m/s along ${Math.round(detail.headingDeg)} degrees; swath ${swathM} m${onMap}, ${percent(swathPlan.overlapFrac)} overlap and fringe`,
    ],
    ["between", `${counted(swathPlan.turns, oneEach.turn)}${hops}`],
    [
      "loads",
      `${detail.loads} of ${size} ${unit} (${detail.amount.toFixed(0)} ${unit} in all), a sortie each from pad ${padIds[work.padIndex]}${sets}`,
    ],
    ["minutes", minutesWords(job)],
    ["in use", inUse.map(([name, frac]) => `${name} ${percent(frac)}`).join(", ")],
  ];
  return textTable(rows, { indent: 2, right: [] });
}

/** Over all aircraft; what takes no time is not told. */
function minutesWords(job: PartJob): string {
  const { minutes, aircraftMin } = compareWithBrochure(job);
  const { aircraftCount } = job.outfit;
  const onPasses = aircraftMin.brochure + aircraftMin.slope + aircraftMin.overlap + aircraftMin.slower;
  const beside = minuteParts
    .filter(isBesidePasses)
    .flatMap((part) =>
      aircraftMin[part] < 0.05 ? [] : [`${reasonWords(part, job.outfit.type)} ${aircraftMin[part].toFixed(1)}`],
    );
  const sum = aircraftCount === 1 ? "" : `${aircraftCount} aircraft x ${minutes} = ${aircraftCount * minutes}: `;
  return `${sum}${[`on passes ${onPasses.toFixed(1)}`, ...beside].join(", ")}`;
}

const onPasses: readonly MinutePart[] = ["brochure", "slope", "overlap", "slower"];
function isBesidePasses(part: MinutePart): part is Reason {
  return !onPasses.includes(part);
}

const notCounted =
  "Minutes run from the first fill to the last landing; driving, setting up and packing up come on top.";

function othersLines(work: OrderWork, others: readonly Answer[]): string[] {
  const title =
    "every outfit that a base could send, with all its battery sets and chargers and people rated and licensed for it";
  const rows = others.flatMap((one) => (one.ok ? [tableRow(work, one)] : []));
  // Outfits that cannot do it for one and the same reason are told in one line.
  const cannot = new Map<string, Set<string>>();
  for (const one of others) {
    if (one.ok) continue;
    const why = refusalWords(one);
    cannot.set(why, (cannot.get(why) ?? new Set()).add(outfitShort(one)));
  }
  return [
    ...wrapped(title, 0),
    ...(rows.length > 0 ? textTable([tableHead, ...rows], { indent: 2, right: [1, 2, 3, 4, 5, 6] }) : []),
    ...[...cannot].flatMap(([why, outfits]) => wrapped(`${[...outfits].join(", ")} cannot: ${why}`, 2)),
  ];
}

function outfitShort({ outfit: { option, type } }: Answer): string {
  return `${option.count} x ${type.id}`;
}

const tableHead = ["aircraft", "sets", "bays", "min", "ha/h", "loads", "changes", "tender", "bottleneck"];

function tableRow({ treated }: OrderWork, answer: Done): string[] {
  const { sets, charge, tender } = answer.outfit;
  const { minutes, loads, batteryChanges, bottleneck } = sums(answer);
  return [
    outfitShort(answer),
    charge === null ? "-" : String(sets),
    String(charge?.bays ?? "-"),
    String(minutes),
    ((60 * treated.areaHa) / minutes).toFixed(1),
    String(loads),
    charge === null ? "-" : String(batteryChanges),
    tender.id,
    bottleneck,
  ];
}

/** Over all parts; the bottleneck is that of the longest. */
function sums({ jobs, minutes }: Done) {
  const longest = jobs.reduce((a, b) => (b.work.minutes > a.work.minutes ? b : a));
  return {
    minutes,
    loads: jobs.reduce((sum, { work }) => sum + work.detail.loads, 0),
    batteryChanges: jobs.reduce((sum, { work }) => sum + work.detail.batteryChanges, 0),
    bottleneck: longest.work.detail.bottleneck,
  };
}

function outcomeFacts({ treated, padIds }: OrderWork, answer: Answer, isMain: boolean) {
  if (!answer.ok) {
    const { outfit, ok, ...why } = answer;
    return { ok, sentence: refusalWords(answer), ...why };
  }
  const rateHaPerHour = (60 * treated.areaHa) / answer.minutes;
  const whole = { ok: true, ...sums(answer), rateHaPerHour };
  return isMain ? { ...whole, parts: answer.jobs.map((job) => jobFacts(job, padIds)) } : whole;
}

function jobFacts(job: PartJob, padIds: readonly string[]) {
  const { part, ground, slopePct, outfit, work } = job;
  const { minutes, padIndex, detail, use, waitMin, swathPlan } = work;
  const { turns, hopM, overlapFrac } = swathPlan;
  const gains = gainsOf(ground, outfit, minutes);
  const brochure = compareWithBrochure(job);
  return {
    part,
    areaHa: ground.areaHa,
    minutes,
    padId: padIds[padIndex],
    ...detail,
    swathM: ground.motion.swathM,
    swathOnMapM: swathOnMapM(ground.motion.swathM, slopePct),
    overlapFrac,
    turns,
    hopM,
    use,
    waitMin,
    brochureMin: brochure.brochureMin,
    aircraftMin: brochure.aircraftMin,
    reasons: reasonsOf(brochure),
    gains,
    bottleneckWords: bottleneckWords(outfit, work, gains),
  };
}

function percent(frac: number): string {
  return `${Math.round(100 * frac)} %`;
}
