import { bottleneckShort, bottleneckWords, gainWords } from "../../../shared/fieldwork/bottleneckWords.ts";
import {
  compareWithBrochure,
  type MinutePart,
  minuteParts,
  type Reason,
  reasonsOf,
  reasonWords,
} from "../../../shared/fieldwork/brochure.ts";
import { type Gain, gainsOf } from "../../../shared/fieldwork/gains.ts";
import { swathOnMapM } from "../../../shared/fieldwork/ground.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { readable } from "../../../shared/plan/words.ts";
import { counted } from "../calc/words.ts";
import { exitCodes, print, printJson } from "../output.ts";
import type { Answer, Done, OrderWork, PartJob, Water } from "./orderWork.ts";
import { outfitFacts, outfitWords } from "./outfit.ts";
import { refusalWords } from "./refusalWords.ts";

const partWords = { whole: "", near: "the part near to a place downwind", rest: "the rest of the field" } as const;
const oneEach = {
  turn: ["turn", "turns"],
  lap: ["lap of the headland", "laps of the headland"],
  load: ["load", "loads"],
  change: ["battery change", "battery changes"],
  refuelling: ["refuelling", "refuellings"],
  fill: ["fill", "fills"],
} as const;

/** How long one order takes the outfit `main`, and every other that could be sent; `main` is missing where none could. */
export function tellOrder(work: OrderWork, main: Answer | undefined, others: readonly Answer[], json: boolean): number {
  const { order, compiled, treated, limits, nobody, fullSets } = work;
  const rateUnit = compiled.liquid ? "L" : "kg";
  const factsOf = (one: Answer, isMain: boolean) => ({
    ...outfitFacts(one.outfit, fullSets),
    outcome: outcomeFacts(work, one, isMain),
  });
  if (json) {
    printJson({
      orderId: order.id,
      fieldId: order.fieldId,
      areaHa: treated.areaHa,
      fieldHa: treated.fieldHa,
      ratePerHa: compiled.ratePerHa,
      rateUnit: `${rateUnit}/ha`,
      limits,
      nobody: nobody ?? null,
      outfit: main === undefined ? null : factsOf(main, true),
      others: others.map((one) => factsOf(one, false)),
    });
  } else {
    const { areaHa, fieldHa } = treated;
    const ofField = areaHa < fieldHa ? `${areaHa.toFixed(2)} of ${fieldHa.toFixed(2)} ha` : `${areaHa.toFixed(2)} ha`;
    const say = (text: string, indent: number) => {
      for (const line of wrapped(text, indent)) print(line);
    };
    print(`${order.id} on ${order.fieldId}: ${ofField} at ${compiled.ratePerHa} ${rateUnit}/ha`);
    for (const { sentence } of limits) say(`not allowed: ${sentence}`, 0);
    if (nobody !== undefined) say(`cannot be done: ${nobody}`, 0);
    if (main !== undefined) {
      say(outfitWords(main.outfit, fullSets), 0);
      if (main.ok) for (const line of doneLines(work, main, rateUnit)) print(line);
      else say(`cannot: ${refusalWords(main)}`, 2);
    }
    if (others.length > 0) for (const line of ["", ...othersLines(work, others)]) print(line);
    print("");
    say(`${notCounted} ${caution}`, 0);
  }
  return main?.ok && limits.length === 0 && nobody === undefined ? exitCodes.good : exitCodes.answerIsNo;
}

function doneLines(work: OrderWork, { jobs, minutes, water }: Done, unit: string): string[] {
  const waterRows = water === undefined ? [] : [["water", waterWords(water)]];
  if (jobs.length === 1) return textTable([...jobRows(work, jobs[0]!, unit), ...waterRows], { indent: 2, right: [] });
  const rate = (60 * work.treated.areaHa) / minutes;
  return [
    `  ${minutes} min for both parts, ${rate.toFixed(1)} ha/h; each has windows of its own`,
    ...textTable(waterRows, { indent: 2, right: [] }),
    ...jobs.flatMap((job) => [
      `${partWords[job.part]}, ${job.ground.areaHa.toFixed(2)} ha`,
      ...textTable(jobRows(work, job, unit), { indent: 2, right: [] }),
    ]),
  ];
}

function waterWords({ mixL, tenderL, fills }: Water): string {
  const litres = `${readable(mixL)} L of mix, the tender carries ${readable(tenderL)} L`;
  return fills === 0
    ? litres
    : `${litres}: ${counted(fills, oneEach.fill)} of the tender meanwhile, the way to the water and filling not counted`;
}

function jobRows({ padIds }: OrderWork, job: PartJob, unit: string): string[][] {
  const { ground, slopePct, outfit, work } = job;
  const { detail, minutes, use, swathPlan } = work;
  const { swathM } = ground.motion;
  const onMapM = swathOnMapM(swathM, slopePct).toFixed(1);
  const onMap = onMapM === swathM.toFixed(1) ? "" : ` (${onMapM} m on the map: ${slopePct} % slope)`;
  const lapCount = new Set(swathPlan.legs.filter(({ pass }) => pass < 0).map(({ pass }) => pass)).size;
  const laps = lapCount > 0 ? `, ${counted(lapCount, oneEach.lap)} among them` : "";
  const hopKm = (swathPlan.hopM / 1000).toFixed(1);
  const hops = hopKm === "0.0" ? "" : `, ${hopKm} km of hops`;
  const changes = `, ${counted(work.changes, oneEach[outfit.type.power.source === "battery" ? "change" : "refuelling"])}`;
  const size = detail.loadSize.toFixed(1);
  const brochure = compareWithBrochure(job);
  const inUse = [
    ["aircraft", use.aircraftFrac],
    ["loading", use.loadingFrac],
    ...(outfit.method === "liquid" ? [["mixing", use.mixingFrac] as const] : []),
    ...(use.baysFrac === undefined ? [] : [["bays", use.baysFrac] as const]),
  ] as const;
  const loads =
    detail.loads === 1
      ? `1 of ${size} ${unit}, one sortie`
      : `${detail.loads} of ${size} ${unit} (${detail.amount.toFixed(0)} ${unit} in all), a sortie each`;
  return [
    [
      "time",
      `${minutes} min, ${detail.rateHaPerHour.toFixed(1)} ha/h; a brochure says ${brochure.brochureMin.toFixed(0)} min`,
    ],
    ["gains most", gainWords(outfit, work, gainsOfJob(job))],
    ["bottleneck", bottleneckWords(outfit, work)],
    [
      "passes",
      `${detail.passes}${laps}, ${detail.passKm.toFixed(1)} km at ${detail.speedMps.toFixed(1)} m/s along ${Math.round(detail.headingDeg)} degrees; swath ${swathM} m${onMap}, ${percent(swathPlan.overlapFrac)} overlap and fringe`,
    ],
    ["between", `${counted(swathPlan.turns, oneEach.turn)}${hops}`],
    ["loads", `${loads} from pad ${padIds[work.padIndex]}${changes}`],
    ["minutes", minutesWords(job)],
    ["in use", inUse.map(([name, frac]) => `${name} ${percent(frac)}`).join(", ")],
  ];
}

function gainsOfJob({ ground, outfit, work, tenderPlaces }: PartJob): Gain[] {
  return gainsOf(ground, outfit, work.minutes, tenderPlaces);
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
  "Minutes run from the first fill to the last landing; driving, setting up, packing up and refilling the tender come on top.";

function othersLines(work: OrderWork, others: readonly Answer[]): string[] {
  const full = work.fullSets === undefined ? "" : ` (${work.fullSets} full at the start, or all if fewer)`;
  const title = `every outfit that a base could send, with all its battery sets${full} and chargers and people rated and licensed for it`;
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
    ...(rows.length > 0 ? textTable([tableHead, ...rows], { indent: 2, right: [1, 2, 3, 4, 5, 6, 8] }) : []),
    ...[...cannot].flatMap(([why, outfits]) => wrapped(`${[...outfits].join(", ")} cannot: ${why}`, 2)),
  ];
}

function outfitShort({ outfit: { option, type } }: Answer): string {
  return `${option.count} x ${type.id}`;
}

const tableHead = ["aircraft", "sets", "bays", "min", "ha/h", "loads", "changes", "tender", "fills", "bottleneck"];

function tableRow({ treated }: OrderWork, answer: Done): string[] {
  const { sets, charge, tender } = answer.outfit;
  const { minutes, loads, changes } = sums(answer);
  const { outfit, work } = longestOf(answer);
  return [
    outfitShort(answer),
    charge === null ? "-" : String(sets),
    String(charge?.bays ?? "-"),
    String(minutes),
    ((60 * treated.areaHa) / minutes).toFixed(1),
    String(loads),
    String(changes),
    tender.id,
    String(answer.water?.fills ?? "-"),
    bottleneckShort(outfit, work),
  ];
}

/** Over all parts; the bottleneck is that of the longest. */
function sums(answer: Done) {
  const { jobs, minutes, water } = answer;
  return {
    minutes,
    loads: jobs.reduce((sum, { work }) => sum + work.detail.loads, 0),
    changes: jobs.reduce((sum, { work }) => sum + work.changes, 0),
    ...(water === undefined ? {} : { water }),
    bottleneck: longestOf(answer).work.detail.bottleneck,
  };
}

function longestOf({ jobs }: Done): PartJob {
  return jobs.reduce((a, b) => (b.work.minutes > a.work.minutes ? b : a));
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
  const { minutes, padIndex, detail, use, waitMin, changes, swathPlan } = work;
  const { turns, hopM, overlapFrac } = swathPlan;
  const gains = gainsOfJob(job);
  const brochure = compareWithBrochure(job);
  return {
    part,
    areaHa: ground.areaHa,
    minutes,
    padId: padIds[padIndex],
    ...detail,
    changes,
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
    gainWords: gainWords(outfit, work, gains),
    bottleneckWords: bottleneckWords(outfit, work),
  };
}

function percent(frac: number): string {
  return `${Math.round(100 * frac)} %`;
}
