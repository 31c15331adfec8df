import type { ApplicationRecord } from "../../../shared/contracts/applicationRecords.ts";
import type { Recorded } from "../../../shared/done/recorded.ts";
import { recordFields, ruleNames, rulesFor } from "../../../shared/done/recordFields.ts";
import { geometryCentroidLonLat } from "../../../shared/geo/convert.ts";
import { dateWords } from "../../../shared/model/dateWords.ts";
import type { RecordRule } from "../../../shared/model/quantities.ts";
import { positionsOf } from "../../../shared/plan/mapPlaces.ts";
import type { Measures } from "../../../shared/plan/measures.ts";
import { methodVerb } from "../../../shared/plan/words.ts";
import { Paper, type PaperSize } from "../page/paper.ts";
import { facts, table } from "../page/table.ts";
import { blanks } from "../sheet/onSite.ts";
import { heightFor, Sketch } from "../sheet/sketch.ts";
import { aircraftWords, applicatorWords, localWords } from "./recordWords.ts";

export interface RecordPaper {
  readonly told: ApplicationRecord;
  readonly size: PaperSize;
  readonly measures: Measures;
}

const notTold = "not told";
const mostMapPt = 170;

/** One application, as an inspector asks for it: what was applied where, when, by whom, under which rule, and what is missing. */
export function recordPdf({ told, size, measures }: RecordPaper): Promise<Buffer> {
  const { record, version, id, byName, createdAt, reason } = told;
  const paper = new Paper({
    size,
    title: `Application record, ${record.fieldName}, ${dateWords(record.date)}`,
    foot: `Application record ${id}, version ${version}. ${record.fieldName}, ${dateWords(record.date)}`,
    madeAt: new Date(createdAt),
  });
  paper.text("Record of an application", { bold: true, sizePt: 16 });
  paper.text(`${record.fieldName}, ${dateWords(record.date)}`, { bold: true, sizePt: 12 });
  paper.text(
    `Version ${version} by ${byName}, ${localWords(createdAt, record.timeZone)}: ${reason}. Times in ${record.timeZone}.`,
    { sizePt: 8 },
  );
  paper.gap(4);
  completeness(paper, told);
  facts(paper, recordFacts(record, measures));
  paper.gap(4);
  products(paper, record, measures);
  measured(paper, record, measures);
  ground(paper, record, measures);
  asked(paper, record);
  paper.gap(4);
  blanks(paper, [
    ["certified applicator, signature", 2],
    ["date", 1],
  ]);
  return paper.finish();
}

function completeness(paper: Paper, { complete, findings, missing, record }: ApplicationRecord): void {
  const rules = rulesFor(record).map((rule) => ruleNames[rule]);
  const under = rules.length === 0 ? "" : `, under ${rules.join(" and ")}`;
  if (record.state === "withdrawn") paper.text("Withdrawn: the crew has taken its reports back.", { bold: true });
  paper.text(complete ? `Complete${under}.` : `Not complete${under}:`, { bold: true });
  for (const { sentence } of missing) paper.text(`• ${sentence}`);
  if (findings.length > 0) {
    paper.text("To be looked at by the applicator:", { bold: true });
    for (const finding of findings) paper.text(`• ${finding}`);
  }
  paper.gap(4);
}

function recordFacts(record: Recorded, measures: Measures): (readonly [string, string])[] {
  const [lonDeg, latDeg] = geometryCentroidLonLat(record.geometry);
  const start = localWords(record.startedAt, record.timeZone);
  const end = localWords(record.endedAt, record.timeZone);
  const rows: (readonly [string, string])[] = [
    ["Applied for", record.grower],
    ["Address", record.growerAddress ?? notTold],
    ["Type of use", record.typeOfUse],
    ["Field", `${record.fieldName} (${record.fieldId}), about ${latDeg.toFixed(5)}, ${lonDeg.toFixed(5)}`],
    ["Unit of land", record.landId ?? notTold],
    ["Area treated", measures.area(record.treatedHa)],
    [
      "Crop",
      [
        record.crop,
        ...(record.eppoCode === null ? [] : [`EPPO ${record.eppoCode}`]),
        ...(record.growthStage === null ? [] : [`BBCH ${record.growthStage}`]),
      ].join(", "),
    ],
    ["Begun", start === "" ? notTold : start],
    ["Ended", end === "" ? notTold : end],
    [
      "How",
      `${methodVerb[record.method]}, ${aircraftWords(record)}${record.carrierLPerHa === null ? "" : `, ${measures.bulkPerArea(record.carrierLPerHa, "L")} in all`}`,
    ],
    ["Applicator", record.applicators.length === 0 ? notTold : applicatorWords(record)],
    ["Helpers", record.helpers.join("; ")],
    ["Spot application", record.spotApplication ?? ""],
    ["Order, block", `${record.orderId}, ${record.blockId}`],
    ["Crew", record.crewName],
    ["Notes", record.notes],
  ];
  return rows.filter(([, value]) => value !== "");
}

function products(paper: Paper, record: Recorded, measures: Measures): void {
  table(paper, {
    heads: ["product", "registration number", "amount", measures.perArea, "amount from"],
    rows: record.products.map(({ name, registrationNumber, amount, unit, ratePerHa, amountFrom, restrictedUse }) => [
      restrictedUse ? `${name} (restricted use)` : name,
      registrationNumber ?? notTold,
      measures.dose(amount, unit),
      ratePerHa === null ? "" : measures.dosePerArea(ratePerHa, unit),
      amountFrom,
    ]),
    right: [2, 3],
  });
  paper.gap(6);
}

function measured(paper: Paper, { measured: all, timeZone }: Recorded, measures: Measures): void {
  if (all.length === 0) {
    paper.text("No conditions were measured.", { bold: true });
    paper.gap(4);
    return;
  }
  const told = (measure: Parameters<Measures["measured"]>[0], value: number | undefined) =>
    value === undefined ? "" : measures.measured(measure, value);
  table(paper, {
    heads: ["measured at", "where", "wind", "from", "gust", "temperature", "humidity", "outside its limit"],
    rows: all.map(({ at, air, limits }) => [
      localWords(at, timeZone),
      air.where ?? "",
      told("wind", air.windKph),
      air.windFromDeg === undefined ? "" : `${air.windFromDeg}°`,
      told("gust", air.gustKph),
      told("temperature", air.temperatureC),
      told("humidity", air.humidityPct),
      limits
        .filter(({ holds }) => !holds)
        .map(
          ({ measure, allowed, bound }) =>
            `${measure}, at ${bound} ${measures.limit({ measure, bound, value: allowed })}`,
        )
        .join("; "),
    ]),
  });
  paper.gap(6);
}

function ground(paper: Paper, { geometry }: Recorded, measures: Measures): void {
  const positions = positionsOf(geometry);
  const heightPt = heightFor(positions, paper.widthPt, mostMapPt);
  paper.need(heightPt + 16);
  paper.text("The ground", { bold: true });
  const sketch = new Sketch(paper, { xPt: paper.leftPt, yPt: paper.yPt, widthPt: paper.widthPt, heightPt }, positions);
  sketch.draw(() => {
    sketch.shade(geometry);
    sketch.outline(geometry, 1);
    sketch.furniture(measures);
  });
  paper.yPt += heightPt + 6;
}

/** Who asks for what, in whose words. */
function asked(paper: Paper, record: Recorded): void {
  const rules = rulesFor(record);
  if (rules.length === 0) return;
  const words = (rule: RecordRule) => recordFields.filter((field) => field.asked[rule] !== undefined);
  for (const rule of rules) {
    paper.need(40);
    paper.text(`Asked for by ${ruleNames[rule]}`, { bold: true });
    table(paper, {
      heads: ["what", "in its words", "told"],
      rows: words(rule).map((field) => {
        const isWanted = field.isAsked?.(record, rule) ?? true;
        return [
          field.words,
          field.asked[rule]!,
          isWanted ? (field.isThere(record) ? "yes" : "no") : "not asked for here",
        ];
      }),
      sizePt: 7.5,
    });
    paper.gap(4);
  }
}
