import { describe, expect, it } from "vitest";
import { examples } from "../../../services/api/examples.ts";
import type { PaperSource } from "../../../services/papers/page/source.ts";
import { recordPdf } from "../../../services/papers/record/recordPdf.ts";
import { crewDayPdf } from "../../../services/papers/sheet/crewDayPdf.ts";
import { weekPdf } from "../../../services/papers/week/weekPdf.ts";
import { applicationRecordSchema } from "../../../shared/contracts/applicationRecords.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import { dayMap } from "../../../shared/plan/dayMap.ts";
import { metricMeasures, usMeasures } from "../../../shared/plan/measures.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { hazardousOperation } from "../../support/hazards.ts";
import { accented, longName, longNamedOperation } from "../../support/longNames.ts";
import { pdfText, unspaced } from "../../support/pdfText.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const source: PaperSource = {
  planName: "1a2b3c4d",
  publication: 3,
  latest: 3,
  madeAt: new Date("2027-03-25T18:00:00Z"),
};

const toldRecord = applicationRecordSchema.parse((examples.applicationRecord!.answer as { body: unknown }).body);

function crewDay(
  operation: Operation,
  size: "a4" | "letter" = "a4",
  of = source,
  measures = metricMeasures,
): Promise<Buffer> {
  const plan = viewPlan(operation);
  const sheet = crewSheet(operation, plan, "K1", "2027-03-26", measures)!;
  return crewDayPdf({ sheet, map: dayMap(operation, plan, "K1", "2027-03-26")!, source: of, size, measures });
}

describe("a crew-day on paper", async () => {
  const pages = await pdfText(await crewDay(viewOperation()));
  const all = pages.join(" ");

  it("begins with who, when, what to take, and the caution", () => {
    const first = pages[0]!;
    for (const words of [
      "Crew 1",
      "Friday 26 March 2027",
      "Leave by 07:00 from Yard, back 08:42 (Europe/Berlin)",
      "Pilot One (agri)",
      "2 × Small multirotor (A1, A2)",
      "4 battery sets for Small multirotor",
      "Tender 1 (2000 L water)",
      caution,
      "Products to take along",
    ]) {
      expect(first).toContain(words);
    }
  });

  it("has the stop with its times, pad, mix in the order of filling, limits, neighbours, and lines to write on", () => {
    for (const words of [
      "Stop 1: Long Acre",
      "07:22 to 08:22",
      "Power line along the north hedge",
      "Re-entry from",
      "Harvest from",
      "Near the field",
      "Hill School (school)",
      "keep 50 m when the wind blows there",
      "Measure on site, stop the work outside",
      "measured before",
      "applicator, signature",
      "crew lead, signature",
    ]) {
      expect(all).toContain(words);
    }
    // 12 ha at 15 L/ha in five loads of at most 40 L: four full ones and a last one of 20 L, 1 and 0.2 L/ha of the products in it.
    expect(all).toContain("loads each 1. water 2. A 3. B loads done");
    expect(all).toMatch(/4 full 40 L \S+ L 2\.67 L 533 mL 1 2 3 4 1 last 20 L \S+ L 1\.33 L 267 mL 5/);
  });

  it("tells the hazards of the stop before all else, or that none are on file", async () => {
    expect(all).toMatch(/07:22 to 08:22 Hazards: No hazards on file: survey on site before flying\./);
    const told = (await pdfText(await crewDay(hazardousOperation()))).join(" ");
    for (const words of [
      "Hazards: Last surveyed on Fri 12 February. Look again before flying.",
      "Wire, 11.2 m high over the field, 300 m north of the pad Low-voltage line, no markers: <keep> below & clear",
      "Tree, height not known 40 m from the field",
      "Line with crosses: wire or other hazard along a line.",
      // Beside its sign on the sketch.
      "wire 11.2 m",
    ]) {
      expect(told).toContain(words);
    }
    expect(all).not.toContain("Line with crosses");
  });

  it("numbers its pages and names crew, date, plan and publication on each", () => {
    pages.forEach((page, at) => {
      expect(page).toContain("Crew 1, Friday 26 March 2027. Publication 3");
      expect(page).toContain(`Page ${at + 1} of ${pages.length}`);
      expect(page).toContain("Publication 3, plan 1a2b3c4d");
    });
  });

  it("keeps the lines that are written on at a stop on one page, and those of the end of the day with the day", () => {
    const pageOf = (words: string) => pages.findIndex((page) => page.includes(words));
    expect(pageOf("started")).toBe(pageOf("applicator, signature"));
    expect(pageOf("At the end of the day")).toBe(pageOf("crew lead, signature"));
    expect(pageOf("At the end of the day")).toBeLessThan(pageOf("measured before"));
  });

  it("says of a plan that is not published, or replaced, that it is", async () => {
    const draft = await pdfText(await crewDay(viewOperation(), "a4", { ...source, publication: null, latest: 2 }));
    expect(draft[0]).toContain("Plan 1a2b3c4d, NOT PUBLISHED");
    const old = await pdfText(await crewDay(viewOperation(), "a4", { ...source, publication: 2 }));
    expect(old[0]).toContain("Publication 2, REPLACED BY 3, plan 1a2b3c4d");
  });

  it("comes on either size of paper, and is the same every time", async () => {
    const [a4, again, letter] = [
      await crewDay(viewOperation()),
      await crewDay(viewOperation()),
      await crewDay(viewOperation(), "letter"),
    ];
    expect(a4.equals(again)).toBe(true);
    // ISO 216 A4 and ANSI A in points of 1/72 inch.
    expect(a4.toString("latin1")).toContain("/MediaBox [0 0 595.28 841.89]");
    expect(letter.toString("latin1")).toContain("/MediaBox [0 0 612 792]");
  });
});

describe("papers in US customary units", async () => {
  it("have them on the crew-day, in table, mix, limits and neighbours", async () => {
    const all = (await pdfText(await crewDay(viewOperation(), "letter", source, usMeasures))).join(" ");
    for (const words of [
      // By the factors of NIST SP 811, appendix B: 12 ha, 15 L/ha, 180 L; 2000 L; 8.4 km; 50 m, 100 m.
      "29.7 ac at 1.6 gal/ac, 47.6 gal in all",
      "Tender 1 (528 gal water)",
      "5.2 mi",
      "keep 165 ft when the wind blows there",
      // 25 km/h are 15.53 mph, rounded to the strict side; Delta T of 2 to 8 degrees Celsius is a difference.
      "at most 15.5 mph",
      "3.6 to 14.4 °F",
      "temperature °F",
      "ac treated",
    ]) {
      expect(all).toContain(words);
    }
    // 40 L are 10.57 gal; 2.67 L are 90.2 fl oz, 533 mL 18.0 fl oz.
    // 99.5 to 100.5 m.
    expect(all).toMatch(/3(2[6-9]|30) ft east/);
    expect(all).toMatch(/4 full 10\.6 gal \S+ gal 90\.2 fl oz 18 fl oz/);
  });

  it("have them on the week and the record", async () => {
    const operation = viewOperation();
    const view = weekView(operation, viewPlan(operation), { ok: true, checked: {}, breaches: [] });
    const week = (await pdfText(await weekPdf({ view, source, size: "letter", measures: usMeasures }))).join(" ");
    expect(week).toContain("29.7 ac");
    expect(week).not.toMatch(/\d ha\b/);
    const record = (await pdfText(await recordPdf({ told: toldRecord, size: "letter", measures: usMeasures }))).join(
      " ",
    );
    // 8 km/h are 5.0 mph, 18 degrees Celsius 64.4 Fahrenheit.
    for (const words of ["5 mph", "64.4 °F"]) expect(record).toContain(words);
  });
});

describe("accented and long names on paper", async () => {
  const operation = longNamedOperation();
  const plan = viewPlan(operation);

  it("stand on the crew-day, whole", async () => {
    const pages = await pdfText(await crewDay(operation));
    const all = pages.join(" ");
    // Whose and which day's page it is is never what is cut.
    for (const page of pages) expect(page).toContain(`${accented} K1, Friday 26 March 2027`);
    expect(all).toContain(accented);
    expect(unspaced(all)).toContain(longName);
    expect(unspaced(all)).toContain(`${longName}LIQ`);
  });

  it("stand on the week, whole", async () => {
    const view = weekView(operation, plan, { ok: true, checked: {}, breaches: [] });
    const all = unspaced(
      (await pdfText(await weekPdf({ view, source, size: "letter", measures: metricMeasures }))).join(" "),
    );
    expect(all).toContain(unspaced(accented));
    expect(all).toContain(longName);
  });
});

describe("the week on paper", () => {
  it("has crews by days with stops and hours, and what is not planned and why", async () => {
    const operation = viewOperation();
    const view = weekView(operation, viewPlan(operation), { ok: true, checked: {}, breaches: [] });
    const all = (await pdfText(await weekPdf({ view, source, size: "a4", measures: metricMeasures }))).join(" ");
    for (const words of [
      "Crew 1",
      "Crew 2",
      "Fri 26 March",
      "not needed",
      "Long Acre",
      "Not planned, and why",
      caution,
    ]) {
      expect(all).toContain(words);
    }
    for (const { orderId, sentence } of view.conflicts) {
      expect(all).toContain(orderId);
      expect(unspaced(all)).toContain(unspaced(sentence));
    }
    expect(view.conflicts.length).toBeGreaterThan(0);
  });
});

describe("an application record on paper", async () => {
  const told = toldRecord;

  it("tells what the rules ask for, what is missing, and who asks for it", async () => {
    const all = (await pdfText(await recordPdf({ told, size: "a4", measures: metricMeasures }))).join(" ");
    const { record } = told;
    for (const words of [
      "Record of an application",
      record.grower,
      record.fieldName,
      record.crop,
      "land, from the air",
      ...record.products.flatMap(({ name, registrationNumber }) => [name, registrationNumber ?? "not told"]),
      "Implementing Regulation (EU) 2023/564",
      "certified applicator, signature",
    ]) {
      expect(unspaced(all)).toContain(unspaced(words));
    }
    for (const { sentence } of told.missing) expect(unspaced(all)).toContain(unspaced(sentence));
  });

  it("says in front that it is not complete, or that it was withdrawn", async () => {
    const bare = { ...told.record, state: "withdrawn" as const };
    const missing = [
      { field: "landId", rule: "eu" as const, asked: "Annex", sentence: "The unit of land is missing." },
    ];
    const [first] = await pdfText(
      await recordPdf({
        told: { ...told, record: bare, complete: false, missing },
        size: "a4",
        measures: metricMeasures,
      }),
    );
    expect(first).toContain("Withdrawn");
    expect(first).toContain("Not complete");
    expect(first).toContain("The unit of land is missing.");
  });
});
