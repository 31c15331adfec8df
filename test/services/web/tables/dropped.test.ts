import { describe, expect, it } from "vitest";
import {
  asForecast,
  faultsByFile,
  goesInto,
  issuedAsOffered,
  localTimeIn,
  readDropped,
} from "../../../../services/web/app/kit/files/dropped.ts";

const file = (name: string, bytes: Uint8Array<ArrayBuffer>) => ({ name, arrayBuffer: async () => bytes.buffer });
const text = (name: string, words: string) => file(name, new TextEncoder().encode(words));
const whole = ["operation.json", "fields.geojson", "products.json", "orders.csv", "fleet.json", "weather.csv"];

describe("dropped files", () => {
  it("are texts by their names; pictures and notes beside them are left where they are", async () => {
    const { faults, texts } = await readDropped([
      text("orders.csv", "id\nÅ"),
      text("notes.txt", "x"),
      text(".a.json", ""),
    ]);
    expect([texts, faults]).toEqual([{ "orders.csv": "id\nÅ" }, []]);
  });

  it("are refused by name where they are no UTF-8, as tables from older programs are", async () => {
    // "Müller" in ISO 8859-1.
    const bytes = new Uint8Array([0x4d, 0xfc, 0x6c, 0x6c, 0x65, 0x72]);
    const { faults, texts } = await readDropped([file("orders.csv", bytes), text("fleet.json", "{}")]);
    expect(Object.keys(texts)).toEqual(["fleet.json"]);
    expect(faults.map(({ path }) => path[0])).toEqual(["orders.csv"]);
  });

  it("are an operation of their own when all of it is there, else they go into the one that is worked with", () => {
    expect(goesInto(whole, "an id")).toBe("anOperation");
    expect(goesInto(whole.slice(1), "an id")).toBe("theOperation");
    expect(goesInto(["orders.csv"], null)).toBe("anOperation");
  });

  it("are a forecast when there is one table, whatever it is called", () => {
    const texts = { "tuesday.csv": "a", "readme.json": "{}" };
    expect(asForecast({ texts, faults: [] }).texts).toEqual({ "weather.csv": "a" });
    expect(asForecast({ texts: { "a.csv": "", "b.csv": "" }, faults: [] }).faults).toHaveLength(1);
    expect(asForecast({ texts: {}, faults: [] }).faults).toHaveLength(1);
  });
});

describe("the time of issue that is offered", () => {
  // Madrid is two hours before UTC in June, Adelaide nine and a half (IANA time zones).
  it("is now, on the operation's clock, for a forecast that begins about now", () => {
    const now = new Date("2027-06-14T03:10:00Z");
    expect(issuedAsOffered(now, "2027-06-14T00:00:00+02:00", "Europe/Madrid")).toBe("2027-06-14T05:10");
    expect(localTimeIn("Australia/Adelaide", now)).toBe("2027-06-14T12:40");
  });

  it("is the forecast's own beginning where that is long past or far ahead", () => {
    const start = "2027-06-14T00:00:00+02:00";
    expect(issuedAsOffered(new Date("2026-11-26T00:00:00Z"), start, "Europe/Madrid")).toBe("2027-06-14T00:00");
    expect(issuedAsOffered(new Date("2027-06-20T00:00:00Z"), start, "Europe/Madrid")).toBe("2027-06-14T00:00");
  });
});

describe("faults of files", () => {
  it("are told file by file, in their order", () => {
    const fault = (...path: string[]) => ({ path, value: 1, expected: "another" });
    const told = faultsByFile([
      fault("orders.csv", "row 2"),
      fault("fleet.json", "crews"),
      fault("orders.csv", "row 9"),
    ]);
    expect(told.map(({ file: name, faults }) => [name, ...faults.map(({ place }) => place)])).toEqual([
      ["orders.csv", "row 2", "row 9"],
      ["fleet.json", "crews"],
    ]);
  });
});
