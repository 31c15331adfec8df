import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { contentDisposition } from "../../../services/api/contentDisposition.ts";
import { examples } from "../../../services/api/examples.ts";
import { fileName } from "../../../services/papers/fileName.ts";
import { recordTable } from "../../../services/papers/record/recordTable.ts";
import { csvText } from "../../../services/papers/tables/csv.ts";
import { weekTableNames, weekTables } from "../../../services/papers/tables/weekTables.ts";
import { applicationRecordSchema } from "../../../shared/contracts/applicationRecords.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { accented, longName, longNamedOperation } from "../../support/longNames.ts";
import { viewPlan } from "../../support/viewPlan.ts";

/** Read by a library, strictly: every row has the columns of the head. */
function read(text: string): Record<string, string>[] {
  return parse(text, { columns: true, bom: true, record_delimiter: "\r\n" }) as Record<string, string>[];
}

const operation = longNamedOperation();
const plan = viewPlan(operation);
const view = weekView(operation, plan, { ok: true, checked: {}, breaches: [] });

describe("tables of a week", () => {
  it("have a row for every stop, order, conflict and crew-day", () => {
    const rows = Object.fromEntries(weekTableNames.map((name) => [name, read(weekTables[name](view))]));
    expect(rows.stops).toHaveLength(
      plan.crewDays.flatMap((day) => day.activities.filter((a) => a.kind === "work")).length,
    );
    expect(rows.orders!.map(({ order_id }) => order_id)).toEqual(operation.orders.map(({ id }) => id));
    expect(rows.conflicts!.map(({ why }) => why)).toEqual(plan.conflicts.map(({ sentence }) => sentence));
    expect(rows["crew-days"]).toHaveLength(plan.crewDays.length);
    const areaHa = rows.stops!.reduce((sum, { area_ha }) => sum + Number(area_ha), 0);
    const daysHa = rows["crew-days"]!.reduce((sum, { area_ha }) => sum + Number(area_ha), 0);
    expect(areaHa).toBeCloseTo(daysHa, 2);
  });

  it("keep accented and long names", () => {
    const [stop] = read(weekTables.stops(view));
    expect(stop).toMatchObject({ field: longName, crew: `${accented} K1`, start: "2027-03-26T07:22:00+01:00" });
  });
});

describe("csvText", () => {
  it("writes what RFC 4180 asks for", () => {
    const text = csvText(
      ["a", "b"],
      [
        ["one, two", 'say "no"'],
        ["two\r\nlines", null],
        [-3.5, 0],
      ],
    );
    expect(text).toBe('\uFEFFa,b\r\n"one, two","say ""no"""\r\n"two\r\nlines",\r\n-3.5,0\r\n');
  });

  it("keeps spreadsheets from taking a text for a formula, and leaves numbers alone", () => {
    const texts = ["=1+1", "+49 30 1", "-x", "@SUM(A1)", "\tx", "\r=x", "a=1"];
    const rows = read(
      csvText(
        ["text", "number"],
        texts.map((text) => [text, -1]),
      ),
    );
    expect(rows.map(({ text }) => text)).toEqual(["'=1+1", "'+49 30 1", "'-x", "'@SUM(A1)", "'\tx", "'\r=x", "a=1"]);
    expect(rows.every(({ number }) => number === "-1")).toBe(true);
  });
});

describe("the table of application records", () => {
  const told = applicationRecordSchema.parse((examples.applicationRecord!.answer as { body: unknown }).body);

  it("has a row for every product, with what the rules name", () => {
    const rows = read(recordTable([told, told]));
    expect(rows).toHaveLength(2 * told.record.products.length);
    const [product] = told.record.products;
    expect(rows[0]).toMatchObject({
      record_id: told.id,
      grower: told.record.grower,
      type_of_use: "land, from the air",
      crop: told.record.crop,
      product: product!.name,
      registration_number: product!.registrationNumber,
      amount: String(product!.amount),
      unit: product!.unit,
      complete: told.complete ? "yes" : "no",
      time_zone: told.record.timeZone,
    });
  });

  it("has a row for a record without products, too", () => {
    expect(read(recordTable([{ ...told, record: { ...told.record, products: [] } }]))).toHaveLength(1);
  });

  it("tells times as the clocks of the place show them", () => {
    const record = { ...told.record, startedAt: "2027-06-14T05:10:00.000Z", timeZone: "Europe/Madrid" };
    expect(read(recordTable([{ ...told, record }]))[0]!.started).toBe("2027-06-14 07:10");
  });
});

describe("names of files", () => {
  it("hold any letters, and nothing that a file system takes for its own", () => {
    expect(fileName(["Łódź/Ñandú:", "2027-06-14"], "pdf")).toBe("Łódź Ñandú 2027-06-14.pdf");
    expect([...fileName(["x".repeat(500)], "pdf")].length).toBeLessThan(130);
  });

  it("are told as RFC 6266 asks, plain and true: examples of RFC 8187, section 3.2.2, and our own", () => {
    expect(contentDisposition("week.pdf")).toBe('inline; filename="week.pdf"');
    expect(contentDisposition("£ rates.pdf")).toContain("filename*=UTF-8''%C2%A3%20rates.pdf");
    expect(contentDisposition("Łódź-Ñandú.pdf")).toBe(
      "inline; filename=\"_odz-Nandu.pdf\"; filename*=UTF-8''%C5%81%C3%B3d%C5%BA-%C3%91and%C3%BA.pdf",
    );
    expect(contentDisposition("it's (1)*.pdf")).toContain("filename*=UTF-8''it%27s%20%281%29%2A.pdf");
    // No header can hold a line break.
    expect(contentDisposition('a"\r\nb.pdf')).toMatch(/^[\x20-\x7e]+$/);
  });
});
